//! Pixel positions in JSON: `[x, y]`, as every picture viewer prints them.

use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::frame::PointPx;

/// One position.
pub(super) mod point {
    use super::{Deserialize, Deserializer, PointPx, Serialize, Serializer};

    pub(in crate::measure) fn serialize<S: Serializer>(
        p: &PointPx,
        to: S,
    ) -> Result<S::Ok, S::Error> {
        [p.x_px, p.y_px].serialize(to)
    }

    pub(in crate::measure) fn deserialize<'de, D: Deserializer<'de>>(
        from: D,
    ) -> Result<PointPx, D::Error> {
        <[f64; 2]>::deserialize(from).map(|[x, y]| PointPx::new(x, y))
    }
}

/// A position that may be missing.
pub(super) mod optional {
    use super::{Deserialize, Deserializer, PointPx, Serialize, Serializer};

    pub(in crate::measure) fn serialize<S: Serializer>(
        p: &Option<PointPx>,
        to: S,
    ) -> Result<S::Ok, S::Error> {
        p.map(|p| [p.x_px, p.y_px]).serialize(to)
    }

    pub(in crate::measure) fn deserialize<'de, D: Deserializer<'de>>(
        from: D,
    ) -> Result<Option<PointPx>, D::Error> {
        let pair = Option::<[f64; 2]>::deserialize(from)?;
        Ok(pair.map(|[x, y]| PointPx::new(x, y)))
    }
}

/// A list of positions that may be missing.
pub(super) mod corners {
    use super::{Deserialize, Deserializer, PointPx, Serialize, Serializer};

    pub(in crate::measure) fn serialize<S: Serializer>(
        list: &Option<Vec<PointPx>>,
        to: S,
    ) -> Result<S::Ok, S::Error> {
        list.as_ref()
            .map(|list| list.iter().map(|p| [p.x_px, p.y_px]).collect::<Vec<_>>())
            .serialize(to)
    }

    pub(in crate::measure) fn deserialize<'de, D: Deserializer<'de>>(
        from: D,
    ) -> Result<Option<Vec<PointPx>>, D::Error> {
        let list = Option::<Vec<[f64; 2]>>::deserialize(from)?;
        Ok(list.map(|l| l.into_iter().map(|[x, y]| PointPx::new(x, y)).collect()))
    }
}

/// A polyline.
pub(super) mod line {
    use super::{PointPx, Serialize, Serializer};

    pub(in crate::measure) fn serialize<S: Serializer>(
        list: &[PointPx],
        to: S,
    ) -> Result<S::Ok, S::Error> {
        let pairs: Vec<[f64; 2]> = list.iter().map(|p| [p.x_px, p.y_px]).collect();
        pairs.serialize(to)
    }
}
