//! Units against their definitions, and figures as people type them.
//!
//! Definitions: international yard and pound agreement 1959 (NIST SP 811, appendix B.8), standard
//! gravity of the 3rd CGPM 1901. All are exact.

use shimwright::units::{
    self, Energy, Force, Length, LinearDensity, Mass, Momentum, Speed, Unit, UnitsError,
};

/// One rounding of the product.
const ULP: f64 = 2.3e-16;

fn close(actual: f64, expected: f64) {
    assert!(
        (actual - expected).abs() <= 2.0 * ULP * expected.abs(),
        "{actual} != {expected}"
    );
}

#[test]
fn definitions_are_exact() {
    close(Length::Inch.to_base(1.0), 25.4);
    close(Length::Foot.to_base(1.0), 304.8);
    close(Length::Yard.to_base(1.0), 914.4);
    close(Mass::Pound.to_base(1.0), 0.453_592_37);
    close(Mass::Grain.to_base(7000.0), 0.453_592_37);
    close(Mass::Ounce.to_base(16.0), 0.453_592_37);
    close(Speed::FootPerSecond.to_base(280.0), 85.344);
    close(Force::PoundForce.to_base(1.0), 0.453_592_37 * 9.806_65);
    close(Force::KilogramForce.to_base(1.0), 9.806_65);
    close(Energy::FootPound.to_base(1.0), 1.355_817_948_331_400_4);
    close(
        Momentum::SlugFootPerSecond.to_base(1.0),
        4.448_221_615_260_5,
    );
}

/// Common practice, no source: the trade divides gr fps^2 by 450240; the exact divisor is 450436.7
/// (2 x 7000 x 32.174049, the standard gravity in ft/s^2).
#[test]
fn kinetic_energy_divisor() {
    let joule = 0.5 * Mass::Grain.to_base(400.0) * Speed::FootPerSecond.to_base(280.0).powi(2);
    let foot_pounds = Energy::FootPound.of_base(joule);
    assert!((400.0 * 280.0 * 280.0 / foot_pounds - 450_436.7).abs() < 0.05);
}

#[test]
fn lengths_as_typed() {
    for (text, default, mm) in [
        ("0.075", Length::Inch, 1.905),
        (".075 in", Length::Millimetre, 1.905),
        ("1.9 mm", Length::Inch, 1.9),
        ("1,9", Length::Millimetre, 1.9),
        ("3/16", Length::Inch, 4.762_5),
        ("1 3/16\"", Length::Millimetre, 30.162_5),
        ("1-3/16 in", Length::Millimetre, 30.162_5),
        ("1 - 3/16", Length::Inch, 30.162_5),
        ("\u{2212}1½″", Length::Millimetre, -38.1),
        ("+2", Length::Centimetre, 20.0),
        ("20 YD", Length::Metre, 18_288.0),
        ("20yds", Length::Metre, 18_288.0),
        ("18.288m", Length::Yard, 18_288.0),
        ("33'", Length::Inch, 10_058.4),
        // Signs that a phone's keyboard puts in place of the typed ones.
        ("\u{2013}2 mm", Length::Inch, -2.0),
        ("1\u{00a0}1\u{2044}2\u{201d}", Length::Metre, 38.1),
        ("2\u{201c}", Length::Metre, 50.8),
        ("1\u{202f}m", Length::Inch, 1000.0),
        ("1\tm", Length::Inch, 1000.0),
        ("2\u{2032}", Length::Metre, 609.6),
        ("2\u{2019}", Length::Metre, 609.6),
        ("1¼", Length::Centimetre, 12.5),
        ("¾", Length::Centimetre, 7.5),
        ("⅛", Length::Centimetre, 1.25),
        ("⅜", Length::Centimetre, 3.75),
        ("⅝", Length::Centimetre, 6.25),
        ("⅞", Length::Centimetre, 8.75),
        // Forty signs, and no more.
        (
            "1.00000000000000000000000000000000000000",
            Length::Millimetre,
            1.0,
        ),
    ] {
        let read = units::parse(text, default).unwrap();
        assert!((read - mm).abs() < 1e-9, "{text}: {read} != {mm}");
    }
}

#[test]
fn other_quantities_as_typed() {
    close(units::parse("400gr", Mass::Gram).unwrap(), 0.025_919_564);
    // 10 gr of 64.79891 mg on 25.4 mm, divided by hand.
    let shaft = units::parse("10 gpi", LinearDensity::GramPerMetre).unwrap();
    close(shaft, 0.647_989_1e-3 / 0.0254);
    close(units::parse("26 g", Mass::Grain).unwrap(), 0.026);
    close(units::parse("280", Speed::FootPerSecond).unwrap(), 85.344);
    close(
        units::parse("85,3 m/s", Speed::FootPerSecond).unwrap(),
        85.3,
    );
    close(
        units::parse("60#", Force::Newton).unwrap(),
        266.893_296_915_63,
    );
    close(
        units::parse("27 kg", Force::PoundForce).unwrap(),
        264.779_55,
    );
    close(
        units::parse_distance_m("20 yd", Length::Metre).unwrap(),
        18.288,
    );
}

#[test]
fn what_cannot_be_read_says_what_to_do() {
    let error = |text: &str| units::parse(text, Length::Inch).unwrap_err();
    assert!(matches!(error("  "), UnitsError::Empty { .. }));
    assert!(matches!(error("1,234.5"), UnitsError::DecimalSigns { .. }));
    assert!(matches!(error("1.2.3"), UnitsError::DecimalSigns { .. }));
    assert!(matches!(error("3/0"), UnitsError::ZeroDenominator { .. }));
    assert!(matches!(error("5 lb"), UnitsError::UnknownUnit { .. }));
    for text in [
        "abc", "in", "-", ".", "1 2", "3/", "/4", "1e5 mm", "nan", "inf", "--1", "1/2/3",
    ] {
        assert!(units::parse(text, Length::Inch).is_err(), "{text}");
    }
    assert!(units::parse(&"9".repeat(400), Length::Inch).is_err());
    assert!(units::parse(&"0".repeat(41), Length::Inch).is_err());
    // What was typed is said again, its end left out where it is long.
    let said = |text: &str| error(text).to_string();
    assert!(said(&"x".repeat(20)).starts_with(&format!("\"{}\"", "x".repeat(20))));
    assert!(said(&"x".repeat(21)).starts_with(&format!("\"{}…\"", "x".repeat(19))));
    assert_eq!(
        error("5 lb").to_string(),
        "\"lb\" is not a unit of a length here; use one of mm, cm, m, in, ft, yd"
    );
    assert_eq!(
        error("").to_string(),
        "nothing was typed; type a length, for example 1.5 in"
    );
}

#[test]
fn a_fraction_is_made_of_whole_numbers() {
    for text in ["1.5/2", "1,5/2", "1/1.5", "1.5 1/2", "1.-1/2"] {
        let read = units::parse(text, Length::Inch);
        let refused = matches!(read, Err(UnitsError::NotANumber { .. }));
        assert!(refused, "{text}: {read:?}");
    }
}

/// After the Particle Data Group's rule, simplified.
#[test]
fn a_figure_keeps_the_digits_that_its_spread_deserves() {
    let rounded = |value, spread| {
        let shown = units::round_estimate(value, spread);
        let number = |value| format!("{value:.*}", shown.decimals as usize);
        format!("{} ± {}", number(shown.value), number(shown.spread))
    };
    assert_eq!(rounded(-12.34, 1.42), "-12.3 ± 1.4");
    assert_eq!(rounded(85.4, 9.2), "85 ± 9");
    assert_eq!(rounded(85.4, 0.98), "85.4 ± 1.0");
    assert_eq!(rounded(1234.0, 410.0), "1200 ± 400");
    assert_eq!(rounded(1.0, 0.1), "1.00 ± 0.10");
    assert_eq!(rounded(1.0, -0.1), "1.00 ± 0.10");
    assert_eq!(rounded(8.26, 0.29), "8.26 ± 0.29");
    assert_eq!(rounded(8.26, 0.31), "8.3 ± 0.3");
    assert_eq!(units::round_estimate(8.26, 0.0).decimals, 1);
    assert_eq!(units::round_estimate(5.04, f64::NAN).decimals, 1);
}
