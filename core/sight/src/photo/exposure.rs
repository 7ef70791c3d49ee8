//! A dim photograph, made as bright as one that was exposed well.

/// The brightest of a picture that a phone exposed well, grey levels. Chosen by hand; not tuned.
const WELL_EXPOSED: f32 = 190.0;
/// Noise grows with what is made brighter: no more than this. Chosen by hand; not tuned.
const MOST_GAIN: f32 = 2.5;
/// One value in so many may be brighter than the brightest: lamps and glare.
const GLARE_ONE_IN: usize = 50;

/// Scales the values of a dim picture: what accepts and refuses holes and edges counts in grey levels.
pub(super) fn brighten(data: &mut [u8]) {
    let brightest = f32::from(brightest(data));
    if brightest >= WELL_EXPOSED {
        return;
    }
    let gain = (WELL_EXPOSED / brightest.max(1.0)).min(MOST_GAIN);
    let scaled: [u8; 256] = std::array::from_fn(|level| (level as f32 * gain).min(255.0) as u8);
    for level in data {
        *level = scaled[usize::from(*level)];
    }
}

/// The level that one value in [`GLARE_ONE_IN`] exceeds.
fn brightest(data: &[u8]) -> u8 {
    let mut counts = [0_usize; 256];
    for level in data {
        counts[usize::from(*level)] += 1;
    }
    let mut glare = data.len() / GLARE_ONE_IN;
    for level in (1..=u8::MAX).rev() {
        let count = counts[usize::from(level)];
        if count > glare {
            return level;
        }
        glare -= count;
    }
    0
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Paper of a level with a hole in it, and a lamp in one value of a hundred.
    fn picture(paper: u8) -> Vec<u8> {
        let level = |k: usize| match k % 100 {
            0 => 255,
            1..10 => 6,
            _ => paper,
        };
        (0..5000).map(level).collect()
    }

    #[test]
    fn dim_paper_is_made_bright_whatever_lamp_is_in_the_picture() {
        let mut dim = picture(95);
        brighten(&mut dim);
        assert_eq!(dim[0..20], [&[255], &[12; 9][..], &[190; 10]].concat()[..]);
    }

    #[test]
    fn what_is_bright_enough_stays_as_it_is() {
        let mut bright = picture(200);
        brighten(&mut bright);
        assert_eq!(bright, picture(200));
    }

    #[test]
    fn night_is_not_made_day() {
        let mut night = picture(20);
        brighten(&mut night);
        assert_eq!(night[50], 50);
        brighten(&mut []);
    }
}
