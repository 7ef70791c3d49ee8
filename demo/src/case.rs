//! The scripting commands: one JSON case in, one JSON answer out.

use crate::words;
use serde::Serialize;
use serde_json::Value;
use shimwright::flight::{Air, TransferTable};
use shimwright::measure::MeasureRequest;
use shimwright::spacer::Fitting;
use shimwright::verdict::{
    Adjustment, Alternative, Arrows, Call, Case, Choice, Ending, Knob, Predicted, Reason, Response,
    SplitReading, Trim, Verdict,
};
use std::io::Read as _;
use std::path::Path;

/// Measures the photograph that a case names; a relative path starts at the case's own folder.
pub(crate) fn measure(path: &str) -> Result<String, String> {
    let (request, photo) = measure_case(&read(Path::new(path))?)?;
    let beside = Path::new(path).parent().unwrap_or(Path::new("."));
    let file = beside.join(&photo);
    let bytes = std::fs::read(&file).map_err(|e| {
        format!(
            "the photo {} cannot be read ({e}); check its name",
            file.display()
        )
    })?;
    let measured = shimwright::measure::measure(&bytes, &request).map_err(told)?;
    json(&measured)
}

/// Decides the case and writes the verdict, its reasons both as kinds and in English.
pub(crate) fn verdict(path: &str) -> Result<String, String> {
    let case = verdict_case(&read(Path::new(path))?)?;
    json(&VerdictText::of(decided(&case)?))
}

/// The verdict on a case, with the flight of its own arrows where it names them.
fn decided(case: &Case) -> Result<Verdict, String> {
    let own = case.arrow.as_ref().map(|arrow| {
        arrow.check().map_err(told)?;
        TransferTable::of(arrow, Air::default()).map_err(told)
    });
    let own = own.transpose()?;
    let table = own.as_ref().unwrap_or(TransferTable::unrecorded());
    shimwright::verdict::decide(case, table).map_err(told)
}

/// The text of a case; `-` is standard input.
pub(crate) fn read(path: &Path) -> Result<String, String> {
    let text = if path == Path::new("-") {
        let mut text = String::new();
        std::io::stdin().read_to_string(&mut text).map(|_| text)
    } else {
        std::fs::read_to_string(path)
    };
    text.map_err(|e| {
        format!(
            "the case {} cannot be read ({e}); check its name",
            path.display()
        )
    })
}

/// The request, and the photograph's path that stands beside it in the case.
pub(crate) fn measure_case(text: &str) -> Result<(MeasureRequest, String), String> {
    let mut case: Value = parse(text)?;
    let photo = case
        .as_object_mut()
        .and_then(|keys| keys.remove("photo"))
        .and_then(|photo| photo.as_str().map(str::to_owned))
        .ok_or("the case needs \"photo\": the path of a JPEG")?;
    let request = serde_json::from_value(case)
        .map_err(|e| format!("the case is not understood ({e}); correct it there"))?;
    Ok((request, photo))
}

fn verdict_case(text: &str) -> Result<Case, String> {
    let mut case: Case = parse(text)?;
    number_trials(&mut case);
    Ok(case)
}

/// Reasons name trials by number: trials without one are numbered 1, 2, 3 in the order given.
fn number_trials(case: &mut Case) {
    if case.trials.iter().all(|trial| trial.id == 0) {
        for (trial, id) in case.trials.iter_mut().zip(1..) {
            trial.id = id;
        }
    }
}

fn parse<T: serde::de::DeserializeOwned>(text: &str) -> Result<T, String> {
    serde_json::from_str(text)
        .map_err(|e| format!("the case is not understood ({e}); correct it there"))
}

fn json<T: Serialize>(answer: &T) -> Result<String, String> {
    serde_json::to_string_pretty(answer)
        .map(|text| text + "\n")
        .map_err(|e| format!("the answer cannot be written as JSON: {e}"))
}

/// An error in its own words.
pub(crate) fn told(error: impl std::fmt::Display) -> String {
    error.to_string()
}

/// The verdict as scripts read it.
#[derive(Serialize)]
struct VerdictText {
    verdict: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    fit: Option<Fitting>,
    #[serde(skip_serializing_if = "Option::is_none")]
    experiment: Option<bool>,
    #[serde(skip_serializing_if = "Option::is_none")]
    trim: Option<TrimText>,
    #[serde(skip_serializing_if = "Option::is_none")]
    shoot_more: Option<Arrows>,
    #[serde(skip_serializing_if = "Option::is_none")]
    adjust: Option<Adjustment>,
    #[serde(skip_serializing_if = "Option::is_none")]
    ending: Option<Ending>,
    answer: String,
    splits: Vec<SplitReading>,
    response: Response,
    predicted: Predicted,
    as_it_is: Predicted,
    predictions: Vec<Predicted>,
    options: Vec<Choice>,
    alternatives: Vec<Alternative>,
    reasons: Vec<Reason>,
    sentences: Vec<String>,
}

/// A small move, with what it moves.
#[derive(Serialize)]
struct TrimText {
    knob: Knob,
    #[serde(flatten)]
    trim: Trim,
    put_back: bool,
    arrows: Arrows,
}

impl VerdictText {
    fn of(verdict: Verdict) -> Self {
        let answer = words::answer(&verdict);
        let leaves_it = verdict.leaves_it();
        let sentences = verdict.reasons.iter().map(words::reason).collect();
        let mut text = Self {
            verdict: "",
            fit: None,
            experiment: None,
            trim: None,
            shoot_more: None,
            adjust: None,
            ending: verdict.ending(),
            answer,
            splits: verdict.splits,
            response: verdict.response,
            predicted: verdict.predicted,
            as_it_is: verdict.as_it_is,
            predictions: verdict.predictions,
            options: verdict.options,
            alternatives: verdict.alternatives,
            reasons: verdict.reasons,
            sentences,
        };
        text.say(verdict.call);
        // There is nothing left to do; that it is not settled, the ending says.
        if leaves_it {
            text.verdict = "stop";
        }
        text
    }

    fn say(&mut self, call: Call) {
        self.verdict = match call {
            Call::AdjustFirst { what } => {
                self.shoot_more = what.arrows();
                self.adjust = Some(what);
                "adjust_first"
            }
            Call::Stop => "stop",
            Call::Trim {
                knob,
                trim,
                put_back,
                arrows,
            } => {
                self.trim = Some(TrimText {
                    knob,
                    trim,
                    put_back,
                    arrows,
                });
                "trim"
            }
            Call::Fit {
                fitting,
                experiment,
            } => {
                self.fit = Some(fitting);
                self.experiment = Some(experiment);
                "fit"
            }
            Call::ShootMore { arrows } => {
                self.shoot_more = Some(arrows);
                "shoot_more"
            }
            Call::SpacersCannot => "spacers_cannot",
        };
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const CASE: &str = r#"{
      "kit": {"name": "Workshop metric", "total_mm": 4.4, "tolerance_mm": 0.05, "pairs": [
        {"name": "A", "thin_mm": 1.3, "thick_mm": 3.1},
        {"name": "B", "thin_mm": 1.5, "thick_mm": 2.9},
        {"name": "C", "thin_mm": 1.9, "thick_mm": 2.5}]},
      "bow": {"axle_to_axle_mm": 838, "fitted": {
        "top": {"pair": "B", "thick": "left"}, "bottom": {"pair": "B", "thick": "left"}}},
      "settings": {"tolerance_mm": 25, "tolerance_distance_m": 18.288, "unequal_axles": false,
        "tilt_limit_mm": 0.6, "priority": ["bare"], "rest_room_mm": {"left": 0, "right": 0}},
      "trials": [
        {"fitted": {"top": {"pair": "B", "thick": "left"}, "bottom": {"pair": "B", "thick": "left"}},
         "distance_m": 18.288, "rest_mm": 0, "nock_mm": 0, "impacts": [
          {"kind": "fletched", "x_mm": -7, "y_mm": 3}, {"kind": "fletched", "x_mm": 6, "y_mm": -5},
          {"kind": "fletched", "x_mm": 1, "y_mm": 8}, {"kind": "bare", "x_mm": 58, "y_mm": 2},
          {"kind": "bare", "x_mm": 71, "y_mm": -9}, {"kind": "bare", "x_mm": 64, "y_mm": 12},
          {"kind": "fletched", "x_mm": -4, "y_mm": -6}, {"kind": "fletched", "x_mm": 4, "y_mm": 1},
          {"kind": "bare", "x_mm": 69, "y_mm": 3}, {"kind": "bare", "x_mm": 56, "y_mm": -4}]}]
    }"#;

    fn decided(text: &str) -> Value {
        let case = verdict_case(text).unwrap();
        let verdict = shimwright::verdict::decide(&case, TransferTable::unrecorded()).unwrap();
        serde_json::to_value(VerdictText::of(verdict)).unwrap()
    }

    #[test]
    fn the_answer_has_the_promised_keys() {
        let answer = decided(CASE);
        assert_eq!(answer["verdict"], "fit");
        assert_eq!(answer["fit"]["top"]["thick"], "right");
        for key in ["kind", "x_mm", "y_mm", "sd_x_mm", "sd_y_mm", "p"] {
            assert!(!answer["splits"][0][key].is_null(), "splits: {key}");
        }
        for key in ["mm_per_mm", "sd", "wrong_way_chance"] {
            assert!(answer["response"][key].is_number(), "response: {key}");
        }
        for key in [
            "x_mm",
            "sd_mm",
            "low80_mm",
            "high80_mm",
            "low95_mm",
            "high95_mm",
            "within_tolerance",
        ] {
            assert!(answer["predicted"][key].is_number(), "predicted: {key}");
        }
        assert!(
            answer["options"]
                .as_array()
                .is_some_and(|all| all.len() == 6)
        );
    }

    /// The example beside the photographs: two epochs, three distances, paper, bare shafts and
    /// broadheads in one verdict.
    #[test]
    fn mixed_evidence_is_one_verdict() {
        let answer = decided(include_str!("../evidence.json"));
        // Broadheads 67 mm right at 30 yd: the next thing goes to the left, the rest before the press.
        assert_eq!(answer["verdict"], "trim", "{answer:#}");
        assert!(
            answer["trim"]["move_mm"]
                .as_f64()
                .is_some_and(|mm| mm < 0.0)
        );
        assert_eq!(answer["predicted"]["kind"], "broadhead");
        let kinds: Vec<&Value> = ["splits", "reasons"].map(|key| &answer[key]).to_vec();
        let told = kinds[1].to_string();
        for reason in ["distances_combined", "older_epochs", "seen_on_this_bow"] {
            assert!(told.contains(reason), "{told}");
        }
        let probes = kinds[0].to_string();
        for probe in ["bare", "broadhead", "paper"] {
            assert!(probes.contains(probe), "{probes}");
        }
    }

    #[test]
    fn the_mirrored_case_gets_the_mirrored_answer() {
        let sides = CASE.replace("left", "LEFT").replace("right", "left");
        let mut case = verdict_case(&sides.replace("LEFT", "right")).unwrap();
        for trial in &mut case.trials {
            let shimwright::evidence::Shot::Face { impacts, .. } = &mut trial.shot else {
                panic!("the case is shot at a face")
            };
            for impact in impacts {
                impact.point = impact.point.mirrored();
            }
        }
        let verdict = shimwright::verdict::decide(&case, TransferTable::unrecorded()).unwrap();
        let turned = serde_json::to_value(VerdictText::of(verdict)).unwrap();
        let as_is = decided(CASE);
        assert_eq!(as_is["fit"]["top"]["pair"], turned["fit"]["top"]["pair"]);
        assert_eq!(turned["fit"]["top"]["thick"], "left");
        let x = |answer: &Value| answer["predicted"]["x_mm"].as_f64().unwrap();
        assert!((x(&as_is) + x(&turned)).abs() < 1e-9);
    }

    #[test]
    fn unknown_keys_are_named() {
        let wrong = CASE.replace("axle_to_axle_mm", "axle_to_axle");
        let why = verdict_case(&wrong).unwrap_err();
        assert!(why.contains("axle_to_axle"), "{why}");
        let why = measure_case(
            r#"{"photo": "a.jpg", "reference": {"kind": "points",
            "a_px": [0, 0], "b_px": [9, 9], "distance_mm": 5}, "tap": []}"#,
        )
        .unwrap_err();
        assert!(why.contains("tap"), "{why}");
    }

    #[test]
    fn a_measure_case_of_every_reference_is_read() {
        for reference in [
            r#"{"kind": "sheet", "width_mm": 297, "height_mm": 210,
                "corners_px": [[1, 1], [9, 1], [9, 9], [1, 9]]}"#,
            r#"{"kind": "points", "a_px": [0, 0], "b_px": [9, 9], "distance_mm": 5}"#,
            r#"{"kind": "rings", "face": "target-40", "centre_px": [5, 5]}"#,
        ] {
            let text = format!(
                r#"{{"photo": "p.jpg", "reference": {reference}, "lens_k1": null,
                    "taps": [{{"kind": "bare", "px": [3, 4]}}],
                    "tears": [{{"px": [5, 6], "shaft_mm": 6.2}}], "propose": true}}"#
            );
            let (request, photo) = measure_case(&text).unwrap();
            assert_eq!((photo.as_str(), request.taps.len()), ("p.jpg", 1));
            assert!(request.propose && request.tears.len() == 1);
        }
    }
}
