//! Merging is idempotent, commutative and associative, whatever was done on the phones apart.

use proptest::prelude::*;
use serde_json::Value;
use shimwright::backup::BackupUse;
use shimwright::frame::Side;
use shimwright::record::{
    BowDetails, ChangeKind, DistanceUnit, Exclusion, SetupChange, SetupCheck, WorkshopSettings,
};
use shimwright::verdict::{CheckItem, CheckState};
use shimwright::workshop::{Happening, Workshop, WorkshopError};

use crate::backup::shelf::{backup, rows, take, with_photo};
use crate::workshop::bench::{Folder, alike, face, kit, workshop};

/// Something a person does; `bow` picks one of those there are.
#[derive(Debug, Clone)]
pub(super) enum Deed {
    AddBow,
    AddKit,
    Shoot { bow: usize, split_mm: f64 },
    LeaveOut { bow: usize },
    Check { bow: usize, item: usize },
    Change { bow: usize, kind: usize },
    Revise { bow: usize, value_mm: Option<f64> },
    Fit { bow: usize, pair: usize },
    Rename { bow: usize },
    PutAway { bow: usize },
    StartSwap { bow: usize },
    Judge { bow: usize },
    Settings,
    Photo { bow: usize },
}

fn deed() -> impl Strategy<Value = Deed> {
    let bow = 0..4_usize;
    prop_oneof![
        1 => Just(Deed::AddBow),
        1 => Just(Deed::AddKit),
        4 => (bow.clone(), -60.0..60.0).prop_map(|(bow, split_mm)| Deed::Shoot { bow, split_mm }),
        2 => bow.clone().prop_map(|bow| Deed::LeaveOut { bow }),
        2 => (bow.clone(), 0..15_usize).prop_map(|(bow, item)| Deed::Check { bow, item }),
        2 => (bow.clone(), 0..5_usize).prop_map(|(bow, kind)| Deed::Change { bow, kind }),
        2 => (bow.clone(), proptest::option::of(-1.0..1.0)).prop_map(|(bow, value_mm)| Deed::Revise { bow, value_mm }),
        2 => (bow.clone(), 0..3_usize).prop_map(|(bow, pair)| Deed::Fit { bow, pair }),
        1 => bow.clone().prop_map(|bow| Deed::Rename { bow }),
        1 => bow.clone().prop_map(|bow| Deed::PutAway { bow }),
        1 => bow.clone().prop_map(|bow| Deed::StartSwap { bow }),
        1 => bow.clone().prop_map(|bow| Deed::Judge { bow }),
        1 => Just(Deed::Settings),
        1 => bow.prop_map(|bow| Deed::Photo { bow }),
    ]
}

/// Puts the newest change of a bow right, or strikes it or takes it in again.
fn revise(
    workshop: &mut Workshop,
    bow: i64,
    value_mm: Option<f64>,
    now_ms: i64,
) -> Result<(), WorkshopError> {
    let happened = workshop.history(bow)?.happenings;
    let record = happened.into_iter().find_map(|one| match one {
        Happening::Changed { record } => Some(record),
        _ => None,
    });
    let Some(record) = record else { return Ok(()) };
    let moved = record.change.value_mm.is_some();
    match value_mm.filter(|_| moved) {
        Some(_) => {
            let right = SetupChange {
                value_mm,
                ..record.change
            };
            workshop.correct_change(record.id, &right, now_ms).map(drop)
        }
        None => workshop
            .strike_change(record.id, !record.struck, now_ms)
            .map(drop),
    }
}

/// Does a deed; one that the workshop refuses leaves it as it was.
fn act(workshop: &mut Workshop, folder: &Folder, deed: &Deed, phone: u8, now_ms: i64) {
    let pick = |bow: usize| {
        let count = 1 + bow % 2;
        // The second bow may not exist: then the deed is refused.
        i64::try_from(count).unwrap()
    };
    let _ = match deed {
        Deed::AddBow => {
            let named = BowDetails {
                kit_id: Some(1),
                ..BowDetails::named(&format!("{phone}-{now_ms}"), 800.0)
            };
            workshop
                .add_bow(&named, Some(&alike("A", Side::Left)), now_ms)
                .map(drop)
        }
        Deed::AddKit => workshop.save_kit(None, &kit(), &[]).map(drop),
        Deed::Shoot { bow, split_mm } => workshop
            .save_trial(pick(*bow), &face(*split_mm), now_ms)
            .map(drop),
        Deed::LeaveOut { bow } => {
            let why =
                [None, Some(Exclusion::Contact), Some(Exclusion::BadShot)][(now_ms % 3) as usize];
            workshop.exclude_impact(pick(*bow), 2, why).map(drop)
        }
        Deed::Check { bow, item } => {
            let check = SetupCheck {
                state: CheckState::Failed,
                ..SetupCheck::unanswered(CheckItem::ALL[*item])
            };
            workshop.answer_check(pick(*bow), &check, now_ms)
        }
        Deed::Change { bow, kind } => {
            let kinds = [
                ChangeKind::NewString,
                ChangeKind::RestMoved,
                ChangeKind::NewRest,
                ChangeKind::CamsAdjusted,
                ChangeKind::SideConfirmed,
            ];
            let change = SetupChange {
                kind: kinds[*kind],
                value_mm: (*kind == 1).then_some(1.5),
                note: String::new(),
                at_ms: now_ms,
            };
            workshop.record_change(pick(*bow), &change).map(drop)
        }
        Deed::Revise { bow, value_mm } => revise(workshop, pick(*bow), *value_mm, now_ms),
        Deed::Fit { bow, pair } => {
            let fitting = alike(["A", "B", "C"][*pair], Side::Right);
            workshop
                .record_fitting(pick(*bow), &fitting, now_ms)
                .map(drop)
        }
        Deed::Rename { bow } => {
            let named = BowDetails {
                kit_id: Some(1),
                ..BowDetails::named(&format!("by {phone}"), 810.0)
            };
            workshop
                .save_bow(pick(*bow), &named, None, now_ms)
                .map(drop)
        }
        Deed::PutAway { bow } => workshop.archive_bow(pick(*bow), now_ms % 2 == 0, now_ms),
        Deed::StartSwap { bow } => {
            let to = alike("B", Side::Left);
            let reason = shimwright::record::FittingReason::OwnChoice;
            workshop
                .start_swap(pick(*bow), &to, reason, None, now_ms)
                .map(drop)
        }
        Deed::Judge { bow } => workshop.give_verdict(pick(*bow), now_ms).map(drop),
        Deed::Settings => workshop.save_settings(&WorkshopSettings {
            tolerance_mm: 10.0 + f64::from(phone),
            distance_unit: DistanceUnit::Yard,
            ..WorkshopSettings::default()
        }),
        Deed::Photo { bow } => {
            let shot = with_photo(
                folder,
                &format!("{now_ms}-{phone}.jpg"),
                &now_ms.to_le_bytes(),
            );
            workshop.save_trial(pick(*bow), &shot, now_ms).map(drop)
        }
    };
}

/// A phone with the shop's backup and what was done on it since.
pub(super) struct Phone {
    folder: Folder,
    pub(super) workshop: Workshop,
}

impl Phone {
    pub(super) fn with(shop: &std::path::Path, number: u8, deeds: &[Deed]) -> Self {
        let folder = Folder::new();
        let mut workshop = Workshop::open_with(&folder.file(), [number; 16]).unwrap();
        take(&mut workshop, &folder, shop, BackupUse::Restore).unwrap();
        for (step, deed) in deeds.iter().enumerate() {
            // Phones whose clocks agree only roughly, and sometimes to the millisecond.
            let now_ms = 20_000 + 10 * step as i64 + i64::from(number % 2);
            act(&mut workshop, &folder, deed, number, now_ms);
        }
        Self { folder, workshop }
    }

    pub(super) fn copy(&mut self, number: u8) -> Self {
        let zip = self.backup();
        Self::with(&zip, number, &[])
    }

    pub(super) fn backup(&mut self) -> std::path::PathBuf {
        let name = "exchange.zip";
        let _ = std::fs::remove_file(self.folder.path().join(name));
        backup(&mut self.workshop, &self.folder, name)
    }

    pub(super) fn merge(&mut self, other: &mut Self) {
        let zip = other.backup();
        take(&mut self.workshop, &self.folder, &zip, BackupUse::Merge).unwrap();
    }

    /// Every row. A revision means something beside its bow's only: whether a verdict is fresh.
    pub(super) fn rows(&mut self) -> Value {
        let mut rows = rows(&mut self.workshop, &self.folder);
        let bows = rows["bow"].as_array_mut().unwrap().iter_mut();
        let of_bow: Vec<(Value, Value)> = bows
            .map(|bow| (bow["id"].clone(), bow["revision"].take()))
            .collect();
        for verdict in rows["verdict"].as_array_mut().unwrap() {
            let now = of_bow.iter().find(|(id, _)| *id == verdict["bow_id"]);
            verdict["revision"] = (verdict["revision"] == now.unwrap().1).into();
        }
        rows
    }
}

pub(super) fn union(one: &mut Phone, other: &mut Phone) -> Phone {
    let mut into = one.copy(90);
    into.merge(other);
    into
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(8))]
    #[test]
    fn the_order_of_merging_does_not_matter(
        histories in prop::array::uniform3(prop::collection::vec(deed(), 0..9)),
    ) {
        let shop = Folder::new();
        let (mut first, bow) = workshop(&shop);
        first.save_trial(bow, &face(40.0), 2_000).unwrap();
        let zip = backup(&mut first, &shop, "shop.zip");
        let [a, b, c] = &histories;
        let (mut a, mut b, mut c) =
            (Phone::with(&zip, 1, a), Phone::with(&zip, 2, b), Phone::with(&zip, 3, c));

        let mut itself = a.copy(91);
        let same = itself.rows();
        prop_assert_eq!(&same, &a.rows(), "a copy is a copy");
        itself.merge(&mut a);
        prop_assert_eq!(&itself.rows(), &same, "idempotent");

        let (mut ab, mut ba) = (union(&mut a, &mut b), union(&mut b, &mut a));
        prop_assert_eq!(ab.rows(), ba.rows(), "commutative");
        let mut bc = union(&mut b, &mut c);
        let (mut left, mut right) = (union(&mut ab, &mut c), union(&mut a, &mut bc));
        let all = left.rows();
        prop_assert_eq!(&all, &right.rows(), "associative");
        prop_assert!(left.workshop.unread().unwrap().is_empty());

        // Nothing of any phone is lost.
        for phone in [&mut a, &mut b, &mut c] {
            for table in ["kit", "bow", "fitting", "trial", "verdict", "setup_check", "setup_change"] {
                for row in phone.rows()[table].as_array().unwrap() {
                    let there = all[table].as_array().unwrap().iter();
                    prop_assert_eq!(there.filter(|one| one["uid"] == row["uid"]).count(), 1);
                }
            }
        }
        // And the union can be worked with.
        left.workshop.rack("").unwrap();
        left.workshop.history(bow).unwrap();
    }
}
