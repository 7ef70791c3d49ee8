//! Patches that are lighter or darker than all around them, whatever the rest of the picture is like.
//!
//! A level that parts a sheet from its ground need not part it from everything else. So every level is tried: of the
//! connected parts beyond it those are taken that hardly grow over the next levels (Matas, Chum, Urban and Pajdla,
//! BMVC 2002) and are spread out as a four-sided figure is.

/// Levels are tried in steps of this many. Chosen by hand; not tuned.
const STEP: usize = 3;
/// A patch is stable if it grows by less than this share over so many steps: 6 levels, which is what grain leaves of the
/// faintest edge that a sheet can be fitted by.
const STABLE: (f64, usize) = (0.10, 2);
/// A patch covers this share of the picture. Chosen by hand; not tuned.
const AREA: std::ops::Range<f64> = 0.02..0.97;
/// The area of a parallelogram is 12 times the root of the determinant of its spread. Print leaves less of it; an ellipse
/// has 1.05.
const BOXY: std::ops::Range<f64> = 0.70..1.08;
/// Patches around one place whose areas differ by less than this share are one. Chosen by hand; not tuned.
const SAME: f64 = 0.05;

/// A connected patch: one of its pixels, and the level beyond which it lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Region {
    pub(crate) seed: usize,
    pub(crate) level: u8,
}

/// The stable patches of a picture, row by row, that are lighter than all around them, or darker.
pub(crate) fn stable(values: &[u8], width: usize, light: bool) -> Vec<Region> {
    let depth = |v: u8| usize::from(if light { 255 - v } else { v });
    let mut order: Vec<Vec<usize>> = vec![Vec::new(); 256];
    for (i, v) in values.iter().enumerate() {
        order[depth(*v)].push(i);
    }
    let mut forest = Forest::of(width, values.len());
    let mut waiting: Vec<Vec<Then>> = Vec::new();
    let mut found: Vec<Then> = Vec::new();
    for (level, pixels) in order.iter().enumerate().take(255) {
        for i in pixels {
            forest.add(*i);
        }
        if level % STEP != STEP - 1 {
            continue;
        }
        if waiting.len() == STABLE.1 {
            for then in waiting.remove(0) {
                if forest.is_stable(&then) && !found.iter().any(|f| forest.is_same(f, &then)) {
                    found.push(then);
                }
            }
        }
        waiting.push(forest.boxes(level));
    }
    let region = |then: Then| Region {
        seed: then.seed,
        level: (if light { 254 - then.level } else { then.level }) as u8,
    };
    found.into_iter().map(region).collect()
}

/// A patch as it was at a level.
struct Then {
    seed: usize,
    level: usize,
    area: f64,
}

/// How a patch is spread out: count, and sums of x, y, and their products.
#[derive(Clone, Copy, Default)]
struct Spread([f64; 6]);

impl Spread {
    fn boxy(&self) -> f64 {
        let [n, x, y, xx, xy, yy] = self.0;
        let (mx, my) = (x / n, y / n);
        let det = (xx / n - mx * mx) * (yy / n - my * my) - (xy / n - mx * my).powi(2);
        n / (12.0 * det.max(f64::MIN_POSITIVE).sqrt())
    }
}

/// The patches so far, each a tree of pixels (Tarjan, JACM 22, 1975).
struct Forest {
    width: usize,
    parent: Vec<usize>,
    spread: Vec<Spread>,
    /// Trees that were large when last looked at.
    large: Vec<usize>,
    sizes: std::ops::Range<f64>,
}

/// A pixel that is in no patch yet.
const NONE: usize = usize::MAX;

impl Forest {
    fn of(width: usize, pixels: usize) -> Self {
        let sizes = AREA.start * pixels as f64..AREA.end * pixels as f64;
        Self {
            width,
            parent: vec![NONE; pixels],
            spread: vec![Spread::default(); pixels],
            large: Vec::new(),
            sizes,
        }
    }

    fn root(&self, mut i: usize) -> usize {
        while self.parent[i] != i {
            i = self.parent[i];
        }
        i
    }

    /// The root, the way to it halved for whoever asks next.
    fn shortened(&mut self, mut i: usize) -> usize {
        while self.parent[i] != i {
            self.parent[i] = self.parent[self.parent[i]];
            i = self.parent[i];
        }
        i
    }

    fn area(&self, i: usize) -> f64 {
        self.spread[self.root(i)].0[0]
    }

    /// Whether a patch has hardly grown since.
    fn is_stable(&self, then: &Then) -> bool {
        self.area(then.seed) / then.area - 1.0 < STABLE.0
    }

    /// Whether two patches of now are one, and were as large.
    fn is_same(&self, a: &Then, b: &Then) -> bool {
        self.root(a.seed) == self.root(b.seed) && (b.area / a.area - 1.0).abs() < SAME
    }

    /// Adds a pixel and joins it with its neighbours.
    fn add(&mut self, i: usize) {
        let (x, y) = ((i % self.width) as f64, (i / self.width) as f64);
        self.parent[i] = i;
        self.spread[i] = Spread([1.0, x, y, x * x, x * y, y * y]);
        let left = (!i.is_multiple_of(self.width)).then(|| i - 1);
        let right = (!(i + 1).is_multiple_of(self.width)).then(|| i + 1);
        let beside = [left, right, i.checked_sub(self.width), Some(i + self.width)];
        for other in beside.into_iter().flatten() {
            if self.parent.get(other).is_some_and(|p| *p != NONE) {
                self.join(i, other);
            }
        }
    }

    fn join(&mut self, a: usize, b: usize) {
        let (a, b) = (self.shortened(a), self.shortened(b));
        if a == b {
            return;
        }
        let area = |i: usize| self.spread[i].0[0];
        let (to, from) = if area(a) < area(b) { (b, a) } else { (a, b) };
        let was_small = area(to) < self.sizes.start;
        self.parent[from] = to;
        let added = self.spread[from].0;
        let sums = self.spread[to].0.iter_mut();
        sums.zip(added).for_each(|(sum, more)| *sum += more);
        if was_small && self.spread[to].0[0] >= self.sizes.start {
            self.large.push(to);
        }
    }

    /// The patches that hold a corner of the picture: no whole sheet does.
    fn grounds(&self) -> Vec<usize> {
        let last = self.parent.len().saturating_sub(1);
        let row = self.width.saturating_sub(1).min(last);
        let corners = [0, row, last.saturating_sub(row), last].into_iter();
        let set = corners.filter(|i| self.parent.get(*i).is_some_and(|p| *p != NONE));
        set.map(|i| self.root(i)).collect()
    }

    /// The large patches that are spread out as four-sided figures are.
    fn boxes(&mut self, level: usize) -> Vec<Then> {
        let parent = &self.parent;
        self.large.retain(|i| parent[*i] == *i);
        let ground = self.grounds();
        let large = self.large.iter().filter(|i| !ground.contains(i));
        let large = large.map(|i| (*i, &self.spread[*i]));
        let boxes = large.filter(|(_, s)| self.sizes.contains(&s.0[0]) && BOXY.contains(&s.boxy()));
        let then = |(seed, spread): (usize, &Spread)| Then {
            seed,
            level,
            area: spread.0[0],
        };
        boxes.map(then).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plane::mask::Mask;

    /// Paper on paper on a ground that gets lighter from side to side, so that no one level parts them.
    #[test]
    fn every_patch_is_found_whatever_lies_elsewhere() {
        let (width, height) = (200, 150);
        let level = |i: usize| {
            let (x, y) = (i % width, i / width);
            let grain = ((x * 7 + y * 13) % 5) as u8;
            let ground = (x / 2) as u8;
            let on =
                |l: usize, t: usize, r: usize, b: usize| (l..r).contains(&x) && (t..b).contains(&y);
            grain
                + match (
                    on(20, 20, 120, 130),
                    on(40, 40, 100, 110),
                    on(150, 30, 190, 90),
                ) {
                    (_, true, _) => 190,
                    (true, ..) => 170,
                    (_, _, true) => 40,
                    _ => 30 + ground,
                }
        };
        let values: Vec<u8> = (0..width * height).map(level).collect();
        let areas = |light: bool| -> Vec<usize> {
            let flood = |r: &Region| {
                let data = values.iter().map(|v| (*v > r.level) == light).collect();
                let mask = Mask {
                    width,
                    height,
                    step: 1,
                    data,
                };
                let patch = mask.component((r.seed % width, r.seed / width));
                patch.data.iter().filter(|v| **v).count()
            };
            stable(&values, width, light).iter().map(flood).collect()
        };
        let near =
            |areas: &[usize], wanted: usize| areas.iter().any(|a| a.abs_diff(wanted) < wanted / 20);
        let (light, dark) = (areas(true), areas(false));
        assert!(
            near(&light, 60 * 70) && near(&light, 100 * 110),
            "{light:?}"
        );
        assert!(near(&dark, 40 * 60), "{dark:?}");
        assert!(light.len() + dark.len() < 12, "{light:?} {dark:?}");
    }
}
