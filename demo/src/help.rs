//! What `--help` says.

/// All commands.
pub(crate) const HELP: &str = "\
Shimwright: tune a compound bow's axle spacers from photographs of what it shoots.

  shimwright-demo run [FOLDER]         the whole job on the demonstration's photographs;
                                       pictures and the workshop file go to FOLDER (demo/out)
  shimwright-demo measure CASE.json    measures one photograph, prints JSON
  shimwright-demo verdict CASE.json    one bow's evidence in, the verdict out as JSON
  shimwright-demo backup WORKSHOP ZIP  a backup of a workshop file and the folder photos beside it
  shimwright-demo restore ZIP WORKSHOP a backup in place of a workshop, which is kept beside it
  shimwright-demo merge ZIP WORKSHOP   a backup of another phone united with a workshop
  shimwright-demo salvage DAMAGED FILE what can be read of a damaged workshop file, in a new one
  shimwright-demo csv WORKSHOP BOW     every arrow of a bow, as CSV; --trials: every trial
  shimwright-demo sheet WORKSHOP BOW --out FOLDER [--letter]
                                       the tune sheet of a bow, as PDF and as a picture
  shimwright-demo sheet a4|letter FILE the reference sheet to print at 100 %, as PDF
  shimwright-demo --help               this text; after verdict or measure: the keys of a case

CASE.json may be - for standard input. Lengths are mm, distances m, pictures upright px;
x is to the archer's right, y up. A key that is not known is an error.
Exit codes: 0 done, 1 refused, with what to do on standard error.
";

/// The keys of a verdict's case.
pub(crate) const VERDICT: &str = "\
shimwright-demo verdict CASE.json: one bow's evidence in, the verdict out as JSON.
demo/evidence.json is an example. Lengths are mm, distances m; x is to the archer's right, y up.

  kit           name, total_mm, tolerance_mm, pairs: [{name, thin_mm, thick_mm}]
  bow           axle_to_axle_mm, fitted: {top: SEAT, bottom: SEAT}, SEAT: {pair, thick: left|right};
                may have top_weight, rest_mm, nock_mm, epoch
  trials        [{fitted or offset_mm, rest_mm, nock_mm, epoch, id, shooter,
                distance_m and impacts: [{kind: fletched|bare|broadhead, x_mm, y_mm, cov, arrow, excluded}]
                and reading: {sd_mm, scale_sd, turn_sd_rad}, or
                paper_m and tears: [{x_mm, y_mm}]}]; a tear goes from the point's hole to the nock end
All further keys may be left out:
  settings      tolerance_mm, tolerance_distance_m, paper_tolerance_mm, unequal_axles, tilt_limit_mm,
                priority: [broadhead|bare|paper], rest_room_mm: {left, right}, mm_per_minute,
                price_of_tilt, price_per_axle_mm, price_per_arrow_mm, price_per_round_mm
  stock         the sets of pieces at hand
  checks        [{item, state: ok|failed|open, measured, low, high}]
  arrow         an arrow set-up: shaft_length_mm, total_mass_kg, point_mass_kg, speed_mps and more
  relatives     [{trials}] of other bows of its family
  remembered    [{from, to, moved_mm, sd_mm, distance_m}] swaps from before the record

Out: verdict (adjust_first, stop, trim, fit, shoot_more or spacers_cannot) with adjust, trim, fit or
shoot_more; ending where nothing more pays (stop with an ending: left as it is, not settled);
answer and sentences in English; splits, response, as_it_is, predicted, options, reasons.
";

/// The keys of a photograph's case.
pub(crate) const MEASURE: &str = "\
shimwright-demo measure CASE.json: measures one photograph, prints JSON.
Lengths are mm, pictures upright px, [x, y] from the upper left.

  photo         the path of a JPEG; a relative one starts at the case's own folder
  reference     {kind: sheet|marks, width_mm, height_mm, corners_px: 4 points},
                {kind: points, a_px, b_px, distance_mm} or {kind: rings, face, centre_px}
All further keys may be left out:
  taps          [{kind: fletched|bare|broadhead, px}]
  tears         [{px, shaft_mm}]
  propose       true: suggest where further holes are
  lens_k1       the lens coefficient remembered of this camera
  measured_length  one length read off a steel rule
";

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::Value;
    use shimwright::measure::MeasureRequest;
    use shimwright::verdict::{Case, Settings};

    #[test]
    fn every_key_of_a_case_is_named() {
        let text = include_str!("../evidence.json");
        let case: Case = serde_json::from_str(text).unwrap();
        let keys = |value: Value| -> Vec<String> {
            let keys = value.as_object().into_iter().flatten();
            keys.map(|(key, _)| key.clone()).collect()
        };
        let of_case = keys(serde_json::to_value(&case).unwrap());
        let of_bow = keys(serde_json::to_value(&case.bow).unwrap());
        let of_trial = keys(serde_json::to_value(&case.trials[0]).unwrap());
        let of_settings = keys(serde_json::to_value(Settings::default()).unwrap());
        assert!(of_case.len() > 5 && of_trial.len() > 3);
        for key in [of_case, of_bow, of_trial, of_settings].concat() {
            assert!(VERDICT.contains(&key), "{key}");
        }
        let photo = r#"{"reference": {"kind": "points", "a_px": [0, 0], "b_px": [9, 9], "distance_mm": 5}}"#;
        let photo: MeasureRequest = serde_json::from_str(photo).unwrap();
        for key in keys(serde_json::to_value(photo).unwrap()) {
            assert!(MEASURE.contains(&key), "{key}");
        }
    }
}
