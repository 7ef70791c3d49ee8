//! Dormand and Prince's embedded Runge-Kutta pair of orders 5 and 4 with continuous output
//! (Hairer, Nørsett & Wanner, Solving Ordinary Differential Equations I, II.5 and II.6; the
//! coefficients of DOPRI5).

use std::ops::ControlFlow;

/// How closely each step is held: the estimated error of every component stays below
/// `absolute + relative * |component|`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Tolerance {
    pub(crate) relative: f64,
    pub(crate) absolute: f64,
}

/// Most steps of one integration: a flight needs about a hundred; a hundred times that is a fault.
const MOST_STEPS: usize = 20_000;

/// The state stopped being finite, or the step shrank to nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Stalled;

/// One accepted step with its continuous extension.
pub(crate) struct Step<const N: usize> {
    /// Time at its start, s.
    pub(crate) start: f64,
    /// Its length, s.
    pub(crate) length: f64,
    coefficients: [[f64; N]; 5],
}

impl<const N: usize> Step<N> {
    /// State at fraction `s` (0 to 1) of the step, of fourth order.
    pub(crate) fn at(&self, s: f64) -> [f64; N] {
        let r = 1.0 - s;
        let [c0, c1, c2, c3, c4] = &self.coefficients;
        std::array::from_fn(|i| c0[i] + s * (c1[i] + r * (c2[i] + s * (c3[i] + r * c4[i]))))
    }
}

/// Lower triangle of the tableau.
const A: [&[f64]; 6] = [
    &[1.0 / 5.0],
    &[3.0 / 40.0, 9.0 / 40.0],
    &[44.0 / 45.0, -56.0 / 15.0, 32.0 / 9.0],
    &[
        19372.0 / 6561.0,
        -25360.0 / 2187.0,
        64448.0 / 6561.0,
        -212.0 / 729.0,
    ],
    &[
        9017.0 / 3168.0,
        -355.0 / 33.0,
        46732.0 / 5247.0,
        49.0 / 176.0,
        -5103.0 / 18656.0,
    ],
    &[
        35.0 / 384.0,
        0.0,
        500.0 / 1113.0,
        125.0 / 192.0,
        -2187.0 / 6784.0,
        11.0 / 84.0,
    ],
];
/// Fifth-order weights minus fourth-order weights.
const E: [f64; 7] = [
    71.0 / 57600.0,
    0.0,
    -71.0 / 16695.0,
    71.0 / 1920.0,
    -17253.0 / 339_200.0,
    22.0 / 525.0,
    -1.0 / 40.0,
];
/// Continuous extension.
const D: [f64; 7] = [
    -12_715_105_075.0 / 11_282_082_432.0,
    0.0,
    87_487_479_700.0 / 32_700_410_799.0,
    -10_690_763_975.0 / 1_880_347_072.0,
    701_980_252_875.0 / 199_316_789_632.0,
    -1_453_857_185.0 / 822_651_844.0,
    69_997_945.0 / 29_380_423.0,
];

/// Integrates the autonomous system `derivative` from `start`, handing every accepted step to
/// `visit` until it breaks.
pub(crate) fn integrate<const N: usize>(
    derivative: impl Fn(&[f64; N]) -> [f64; N],
    start: [f64; N],
    first_step: f64,
    tolerance: Tolerance,
    mut visit: impl FnMut(&Step<N>) -> ControlFlow<()>,
) -> Result<(), Stalled> {
    let (mut time, mut state, mut length) = (0.0, start, first_step);
    let mut slope = derivative(&state);
    for _ in 0..MOST_STEPS {
        let (k, end) = stages(&derivative, &state, slope, length);
        let error = error_ratio(&k, &state, &end, length, tolerance);
        if !error.is_finite() || length < 1e-14 {
            return Err(Stalled);
        }
        if error <= 1.0 {
            let step = accepted(time, length, &state, &end, &k);
            if visit(&step).is_break() {
                return Ok(());
            }
            time += length;
            state = end;
            slope = k[6];
        }
        length *= (0.9 * error.max(1e-10).powf(-0.2)).clamp(0.2, 5.0);
    }
    Err(Stalled)
}

/// The seven slopes of a step and its fifth-order end (first same as last).
fn stages<const N: usize>(
    derivative: &impl Fn(&[f64; N]) -> [f64; N],
    state: &[f64; N],
    slope: [f64; N],
    length: f64,
) -> ([[f64; N]; 7], [f64; N]) {
    let mut k = [[0.0; N]; 7];
    k[0] = slope;
    let mut point = *state;
    for (stage, row) in A.iter().enumerate() {
        point = std::array::from_fn(|i| {
            let sum: f64 = row.iter().zip(&k).map(|(a, slope)| a * slope[i]).sum();
            state[i] + length * sum
        });
        k[stage + 1] = derivative(&point);
    }
    (k, point)
}

/// Largest component error over what is tolerated.
fn error_ratio<const N: usize>(
    k: &[[f64; N]; 7],
    state: &[f64; N],
    end: &[f64; N],
    length: f64,
    tolerance: Tolerance,
) -> f64 {
    let mut worst = 0.0_f64;
    for i in 0..N {
        let error: f64 = E.iter().zip(k).map(|(e, slope)| e * slope[i]).sum();
        let scale = tolerance.absolute + tolerance.relative * state[i].abs().max(end[i].abs());
        let ratio = (length * error).abs() / scale;
        // `max` would swallow a NaN.
        worst = if ratio.is_nan() {
            f64::NAN
        } else {
            worst.max(ratio)
        };
        if worst.is_nan() {
            break;
        }
    }
    worst
}

fn accepted<const N: usize>(
    start: f64,
    length: f64,
    state: &[f64; N],
    end: &[f64; N],
    k: &[[f64; N]; 7],
) -> Step<N> {
    let mut coefficients = [[0.0; N]; 5];
    for i in 0..N {
        let rise = end[i] - state[i];
        let bend = length * k[0][i] - rise;
        let dense: f64 = D.iter().zip(k).map(|(d, slope)| d * slope[i]).sum();
        coefficients[0][i] = state[i];
        coefficients[1][i] = rise;
        coefficients[2][i] = bend;
        coefficients[3][i] = rise - length * k[6][i] - bend;
        coefficients[4][i] = length * dense;
    }
    Step {
        start,
        length,
        coefficients,
    }
}
