//! Looks for something of known size by itself: what a bow's last photograph used comes first.

use std::collections::BTreeSet;

use super::measured::PlaneFacts;
use super::reference;
use super::request::{Reference, Up};
use super::session::PhotoSession;
use crate::frame::PointPx;
use crate::photo::{Photo, half};
use crate::plane::{Plane, PlaneWarning, Sheet, SheetFit, find_faint_card, find_sheet};

/// The sheets and the card that are looked for where none was used before.
const USUAL_SHEETS: [Sheet; 3] = [Sheet::A4, Sheet::LETTER, Sheet::ID1];
/// The published faces looked for where none was used before, one of each print: a picture cannot
/// tell a face from a larger one of the same print, so a person says the size once. The inner rings
/// of the first three are alike; that one is taken whose rings are all there.
const FACES: [&str; 4] = ["target-40", "triple-40", "six-ring-80", "field-40"];
/// Middles nearer to each other than this share of the picture are tried once.
const SAME_MIDDLE: f64 = 0.02;
/// The picture is halved this often before gold is looked for: some 250 px a side are enough.
const HALVINGS: u32 = 4;
/// A patch of gold away from the picture's border is a face's from this many of its px on. Chosen by hand;
/// not tuned.
const LEAST_CELLS: usize = 30;

/// What was found by itself.
#[derive(Debug, Clone, PartialEq)]
pub struct Looked {
    /// The reference as a person would have marked it.
    pub reference: Reference,
    /// Its plane.
    pub facts: PlaneFacts,
    /// Whether there is nothing to ask: the size is known and the fit clean.
    pub sure: bool,
}

impl PhotoSession {
    /// Looks for a sheet, a card or a ring face and fits it; of several, what `usual` says comes
    /// first, then sheets, which are the more exact. Nothing is fitted where nothing was found.
    pub fn look(&mut self, usual: Option<&Reference>, lens_k1: Option<f64>) -> Option<Looked> {
        if let Some(Reference::Rings { face, radii_mm, .. }) = usual {
            let of = |middle: &PointPx| rings(face, radii_mm.clone(), *middle);
            let wanted = middles(self.photo()).iter().map(of).collect();
            let found = self.first(wanted, usual, lens_k1);
            if found.is_some() {
                return found;
            }
        }
        let before = usual.and_then(sheet_of).into_iter().collect::<Vec<_>>();
        let with = SheetFit {
            remembered_k1: lens_k1,
            focal_px: self.photo().focal_px(),
            ..SheetFit::default()
        };
        let found = find_sheet(self.photo(), &[&before, &USUAL_SHEETS], &with);
        let sheet = found.and_then(|found| self.as_marked(&found, usual, lens_k1));
        // The paper of a face comes near a sheet's shape, but not to its corners and edges.
        if sheet
            .as_ref()
            .is_some_and(|found| !is_doubtful(&found.facts))
        {
            return sheet;
        }
        let face = self.face(usual, lens_k1);
        face.or(sheet).or_else(|| {
            let card = find_faint_card(self.photo(), &with)?;
            self.as_marked(&card, usual, lens_k1)
        })
    }

    /// A sheet that was found, fitted as if a person had marked its corners.
    fn as_marked(
        &mut self,
        (sheet, plane): &(Sheet, Plane),
        usual: Option<&Reference>,
        lens_k1: Option<f64>,
    ) -> Option<Looked> {
        let corners = sheet.corners_mm().map(|corner| plane.to_px(corner));
        let marked = Reference::Sheet {
            width_mm: sheet.width_mm,
            height_mm: sheet.height_mm,
            corners_px: Some(corners.to_vec()),
        };
        self.first(vec![marked], usual, lens_k1)
    }

    /// The first print all of whose rings fit; else the first of which some do.
    fn face(&mut self, usual: Option<&Reference>, lens_k1: Option<f64>) -> Option<Looked> {
        let mut some: Option<Looked> = None;
        for wanted in faces(&middles(self.photo())) {
            let Some(found) = self.first(vec![wanted], usual, lens_k1) else {
                continue;
            };
            if !lacks_rings(&found.facts) {
                return Some(found);
            }
            some = some.or(Some(found));
        }
        let some = some?;
        self.first(vec![some.reference], usual, lens_k1)
    }

    fn first(
        &mut self,
        wanted: Vec<Reference>,
        usual: Option<&Reference>,
        lens_k1: Option<f64>,
    ) -> Option<Looked> {
        wanted.into_iter().find_map(|reference| {
            let facts = self.fit(&reference, lens_k1, None).ok()?;
            let sure = is_sure(&reference, usual, &facts);
            Some(Looked {
                reference,
                facts,
                sure,
            })
        })
    }
}

/// Whether a fit as a sheet may be something else: its corners or an edge do not go with it.
fn is_doubtful(facts: &PlaneFacts) -> bool {
    let speaks_against = |warning: &PlaneWarning| {
        matches!(
            warning,
            PlaneWarning::NotSquare { .. } | PlaneWarning::EdgeLeftOut { .. }
        )
    };
    facts.warnings.iter().any(speaks_against)
}

/// Whether rings of a face were not seen, or not where its print has them.
fn lacks_rings(facts: &PlaneFacts) -> bool {
    let speaks_against = |warning: &PlaneWarning| {
        matches!(
            warning,
            PlaneWarning::FewRings { .. } | PlaneWarning::RingOff { .. }
        )
    };
    facts.warnings.iter().any(speaks_against)
}

/// A sheet's shape tells its size where the camera is known; without it, and for a face always, only
/// what was used before does.
fn is_sure(reference: &Reference, usual: Option<&Reference>, facts: &PlaneFacts) -> bool {
    let as_before = usual.is_some_and(|usual| same(usual, reference));
    let harmless = |warning: &PlaneWarning| match warning {
        PlaneWarning::LensUnknown | PlaneWarning::UpAssumed => true,
        PlaneWarning::ShapeUnchecked => as_before,
        _ => false,
    };
    let told = as_before || !matches!(reference, Reference::Rings { .. });
    told && facts.warnings.iter().all(harmless)
}

/// Whether two references are the same thing, wherever it lies.
fn same(a: &Reference, b: &Reference) -> bool {
    match (a, b) {
        (Reference::Sheet { .. }, Reference::Sheet { .. }) => sides(a) == sides(b),
        (
            Reference::Rings { face, radii_mm, .. },
            Reference::Rings {
                face: other,
                radii_mm: radii,
                ..
            },
        ) => face == other && radii_mm == radii,
        _ => false,
    }
}

/// Shorter and longer side of a sheet, mm.
fn sides(sheet: &Reference) -> Option<(f64, f64)> {
    match *sheet {
        Reference::Sheet {
            width_mm,
            height_mm,
            ..
        } => Some((width_mm.min(height_mm), width_mm.max(height_mm))),
        _ => None,
    }
}

/// The sheet that a reference is.
fn sheet_of(reference: &Reference) -> Option<Sheet> {
    match *reference {
        Reference::Sheet {
            width_mm,
            height_mm,
            ..
        } => reference::sheet_of(width_mm, height_mm).ok(),
        _ => None,
    }
}

fn faces(middles: &[PointPx]) -> Vec<Reference> {
    let of = |key| middles.iter().map(move |middle| rings(key, None, *middle));
    FACES.into_iter().flat_map(of).collect()
}

fn rings(face: &str, radii_mm: Option<Vec<f64>>, centre_px: PointPx) -> Reference {
    Reference::Rings {
        face: face.to_owned(),
        radii_mm,
        centre_px,
        up: Up::Picture,
    }
}

/// Where the middle of a face may be: the middle of the largest patch of gold (of three faces on one
/// paper each has its own), of all gold, then of the picture.
fn middles(photo: &Photo) -> Vec<PointPx> {
    let centre = PointPx::new(photo.width() as f64 / 2.0, photo.height() as f64 / 2.0);
    let mut middles: Vec<PointPx> = Vec::new();
    let near = photo.width().max(photo.height()) as f64 * SAME_MIDDLE;
    for middle in gold(photo).into_iter().chain([centre]) {
        if middles.iter().all(|m| m.distance_px(middle) > near) {
            middles.push(middle);
        }
    }
    middles
}

/// The median place of the largest patch of gold in a picture, and of all of it: in a face's paper
/// nothing else is yellow, and stray specks do not move a median.
fn gold(photo: &Photo) -> Vec<PointPx> {
    let small = photo.shrunk(HALVINGS - 1);
    let [red, green, blue] = [0, 1, 2].map(|c| half(&small.channel(c)));
    let is_gold = |k: usize| {
        let [r, g, b] = [&red, &green, &blue].map(|plane| i32::from(plane.data[k]));
        r > 90 && g > 70 && r - b > 60 && g - b > 40 && r - g < 90
    };
    let all = (0..red.data.len()).filter(|&k| is_gold(k));
    let patches = of_faces(patches(all, red.width), (red.width, red.height));
    let largest = patches.iter().max_by_key(|patch| patch.len());
    [largest.cloned().unwrap_or_default(), patches.concat()]
        .iter()
        .filter_map(|cells| middle(cells, red.width))
        .collect()
}

/// Patches of gold without the ground that a face lies on: that reaches the picture's border.
fn of_faces(patches: Vec<Vec<usize>>, (width, height): (usize, usize)) -> Vec<Vec<usize>> {
    let at_border = |k: &usize| {
        let (x, y) = (k % width, k / width);
        x == 0 || y == 0 || x + 1 == width || y + 1 == height
    };
    let (inside, other): (Vec<_>, Vec<_>) = patches
        .into_iter()
        .partition(|patch| patch.len() >= LEAST_CELLS && !patch.iter().any(at_border));
    if inside.is_empty() { other } else { inside }
}

/// Median place of some px of the picture that gold is looked for in, in the photograph.
fn middle(cells: &[usize], width: usize) -> Option<PointPx> {
    let (mut xs, mut ys): (Vec<usize>, Vec<usize>) =
        cells.iter().map(|k| (k % width, k / width)).unzip();
    xs.sort_unstable();
    ys.sort_unstable();
    let step = f64::from(1_u32 << HALVINGS);
    let place = |median: &usize| (*median as f64 + 0.5) * step;
    let (x, y) = (xs.get(xs.len() / 2)?, ys.get(ys.len() / 2)?);
    Some(PointPx::new(place(x), place(y)))
}

/// Cells, row by row, in patches without a gap.
fn patches(cells: impl Iterator<Item = usize>, width: usize) -> Vec<Vec<usize>> {
    let mut left: BTreeSet<usize> = cells.collect();
    let mut patches = Vec::new();
    while let Some(first) = left.pop_first() {
        let mut patch = vec![first];
        let mut next = 0;
        while let Some(&at) = patch.get(next) {
            next += 1;
            let beside = [
                at.checked_sub(1),
                Some(at + 1),
                at.checked_sub(width),
                Some(at + width),
            ];
            patch.extend(beside.into_iter().flatten().filter(|k| left.remove(k)));
        }
        patches.push(patch);
    }
    patches
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::photo::{ExifFacts, Rgb};

    #[test]
    fn cells_without_a_gap_are_one_patch() {
        let cells = [2, 3, 12, 13, 23, 40, 41];
        assert_eq!(
            patches(cells.into_iter(), 10),
            [vec![2, 3, 12, 13, 23], vec![40, 41]]
        );
    }

    /// Three faces of one triple paper, one above the other: the size of the print is asked for, but
    /// all its rings are found.
    #[test]
    fn a_triple_face_is_found_by_itself() {
        let (width, height) = (900, 1500);
        let colour = |x: f64, y: f64| {
            let middle = [250.0, 750.0, 1250.0]
                .map(|at: f64| (x - 450.0).hypot(y - at))
                .into_iter()
                .fold(f64::INFINITY, f64::min);
            match middle / 2.3 {
                r if r < 40.0 => [240, 200, 60],
                r if r < 80.0 => [210, 50, 50],
                r if r < 100.0 => [60, 140, 200],
                _ => [245, 245, 240],
            }
        };
        let pixels = (0..width * height).map(|k| colour((k % width) as f64, (k / width) as f64));
        let rgb = Rgb {
            width,
            height,
            data: pixels.flatten().collect(),
        };
        let photo = Photo::from_rgb(rgb, ExifFacts::default());
        let looked = PhotoSession::of(photo).look(None, None).unwrap();
        let Reference::Rings { face, .. } = &looked.reference else {
            panic!("{looked:?}");
        };
        assert_eq!(face, "triple-40");
        assert!((looked.facts.px_per_mm - 2.3).abs() < 0.02 && !looked.sure);
    }

    /// The ground is as yellow as the gold, and much more of it is seen.
    #[test]
    fn a_face_is_found_on_a_yellow_ground() {
        let (width, height) = (1600, 1200);
        let colour = |x: f64, y: f64| match ((x - 400.0).hypot(y - 420.0), (x, y)) {
            (r, _) if r < 60.0 => [240, 200, 60],
            (r, _) if r < 120.0 => [210, 50, 50],
            (r, _) if r < 180.0 => [60, 140, 200],
            (r, _) if r < 240.0 => [35, 35, 35],
            (_, (85.0..715.0, 105.0..735.0)) => [245, 245, 240],
            _ => [222, 180, 60],
        };
        let pixels = (0..width * height).map(|k| colour((k % width) as f64, (k / width) as f64));
        let rgb = Rgb {
            width,
            height,
            data: pixels.flatten().collect(),
        };
        let photo = Photo::from_rgb(rgb, ExifFacts::default());
        let usual = rings("target-40", None, PointPx::default());
        let looked = PhotoSession::of(photo).look(Some(&usual), None).unwrap();
        assert!((looked.facts.px_per_mm - 1.5).abs() < 0.02, "{looked:?}");
    }

    #[test]
    fn only_a_face_of_before_has_a_sure_size() {
        let middle = PointPx::new(1.0, 2.0);
        let face = |key| rings(key, None, middle);
        assert!(same(&face("target-60"), &face("target-60")));
        assert!(!same(&face("target-60"), &face("target-40")));
    }
}
