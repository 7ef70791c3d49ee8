//! What is handed on: a bow's tune sheet and its tables.

use std::sync::Arc;

use shimwright::plane::Paper;
use shimwright::sheet::{SheetError, SheetText, TuneSheet};

use crate::{Workshop, WorkshopError};

type Answer<T> = Result<T, WorkshopError>;

/// A bow's tune sheet: word what it asks for, in its order, and draw it with those words.
#[derive(Debug, uniffi::Object)]
pub struct Sheet(TuneSheet);

fn core(error: SheetError) -> shimwright::workshop::WorkshopError {
    error.into()
}

// Documented at the core's method of the same name.
#[allow(missing_docs)]
#[uniffi::export]
impl Sheet {
    pub fn asks(&self) -> Vec<SheetText> {
        self.0.asks()
    }

    pub fn pdf(&self, words: Vec<String>, paper: Paper) -> Answer<Vec<u8>> {
        Ok(self.0.pdf(&words, paper).map_err(core)?)
    }

    pub fn png(&self, words: Vec<String>, width_px: u32) -> Answer<Vec<u8>> {
        Ok(self.0.png(&words, width_px).map_err(core)?)
    }
}

// Documented at the core's method of the same name.
#[allow(missing_docs)]
#[uniffi::export]
impl Workshop {
    pub fn tune_sheet(&self, bow_id: i64, now_ms: i64) -> Answer<Arc<Sheet>> {
        let sheet = self.lock().tune_sheet(bow_id, now_ms)?;
        Ok(Arc::new(Sheet(sheet)))
    }

    pub fn trials_csv(&self, bow_id: i64) -> Answer<String> {
        Ok(self.lock().trials_csv(bow_id)?)
    }
}
