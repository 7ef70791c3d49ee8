//! Why: a closed set of messages with values, so that the shell can say them in any language.

use serde::{Deserialize, Serialize};

use crate::verdict::{CheckItem, OutOfRange};

use super::call::Direction;
use super::next_look::NextLook;
use crate::evidence::Probe;
use crate::frame::ArrowKind;
use crate::walkback::WalkBackMeaning;

/// One short sentence of the explanation, as a kind with its values.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Reason {
    /// Nothing has been shot yet that can be used.
    NothingShot,
    /// Too few arrows to act on.
    TooFewArrows {
        /// Which probe (paper: tears).
        kind: Probe,
        /// Probe arrows so far.
        have: u32,
        /// Fletched arrows to compare with so far.
        have_reference: u32,
        /// How many of each are needed.
        need: u32,
    },
    /// A trial has no fletched arrows to compare with.
    NoReference {
        /// The trial.
        trial: i64,
    },
    /// A trial was left out because it is not known what was fitted.
    TrialWithoutFitting {
        /// The trial.
        trial: i64,
    },
    /// A trial is not counted because what was shot more than once shows something else.
    TrialOutvoted {
        /// The trial.
        trial: i64,
    },
    /// Rounds with nothing changed between them went one way, by and by or in one step; only the newest count.
    Crept {
        /// Which probe.
        kind: Probe,
        /// How many rounds.
        rounds: u32,
        /// Whether it is their height that went.
        #[serde(default, skip_serializing_if = "std::ops::Not::not")]
        in_height: bool,
        /// In the first of them, by the line through all or before the step, mm; a height without what gravity and drag explain.
        from_mm: f64,
        /// The same in the last, mm.
        to_mm: f64,
    },
    /// The split is more than scatter.
    SplitIsReal {
        /// Which probe.
        kind: Probe,
        /// Sideways, mm.
        x_mm: f64,
        /// Its standard deviation, mm.
        sd_mm: f64,
        /// Half the width of its 95 % interval, mm; 0 in a verdict given before that was told.
        #[serde(default)]
        plus_minus_mm: f64,
        /// Chance of it by scatter alone.
        p: f64,
        /// Where it was shot, m, where several distances were.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        distance_m: Option<f64>,
    },
    /// The split may be scatter.
    SplitMayBeScatter {
        /// Which probe.
        kind: Probe,
        /// Sideways, mm.
        x_mm: f64,
        /// Its standard deviation, mm.
        sd_mm: f64,
        /// Half the width of its 95 % interval, mm; 0 in a verdict given before that was told.
        #[serde(default)]
        plus_minus_mm: f64,
        /// Chance of it by scatter alone.
        p: f64,
        /// Where it was shot, m, where several distances were.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        distance_m: Option<f64>,
    },
    /// Good enough as it stands: stop here.
    WithinTolerance {
        /// Which probe.
        kind: Probe,
        /// Expected split, mm.
        x_mm: f64,
        /// The user's tolerance, mm.
        tolerance_mm: f64,
        /// Chance to be within it.
        chance: f64,
    },
    /// Direction and size of the answer are common practice, not yet seen on this bow.
    NotYetSeenOnThisBow,
    /// What this bow has shown.
    SeenOnThisBow {
        /// Split at 20 yd per mm of shift, mm/mm.
        mm_per_mm: f64,
        /// Its standard deviation.
        sd: f64,
        /// Its size at least, whichever way it goes, four times in five.
        #[serde(default)]
        least: f64,
        /// Its size at most.
        #[serde(default)]
        most: f64,
    },
    /// This bow answers the other way round than common practice says.
    AnswersTheOtherWay {
        /// How sure that is.
        chance: f64,
    },
    /// Which way this bow answers is still open.
    DirectionOpen {
        /// Chance that it answers the other way round.
        wrong_way_chance: f64,
    },
    /// What a swap or a trim is expected to change.
    StepPays {
        /// Chance to be inside tolerance as it is.
        now: f64,
        /// Chance to be inside tolerance after it.
        after: f64,
        /// Minutes of work, its round of arrows included.
        minutes: f64,
    },
    /// This swap is an experiment: three tears in the same paper before and after teach most.
    TearsTeach,
    /// The rest is cheap to move and can be put back: it goes before the press.
    RestBeforePress,
    /// The rest goes back to where it stood: it made things worse.
    PutBack,
    /// No fitting, trim or arrow is worth its price.
    NothingPays {
        /// Of which probe: the one that is then least likely inside; a verdict given before it was said has none.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        kind: Option<Probe>,
        /// Expected split with the fitting that leaves least, mm.
        best_mm: f64,
        /// Chance to be inside tolerance there.
        chance: f64,
    },
    /// The kit ends before the split does.
    KitEnds {
        /// Expected split with the fitting that leaves least, mm.
        remaining_mm: f64,
    },
    /// The kit's steps are coarse: from one side of the field points they lead straight out on the other.
    StepsCoarse {
        /// Expected split with the fitting that leaves least to the left, mm, negative.
        left_mm: f64,
        /// The same to the right, mm.
        right_mm: f64,
    },
    /// Where to look when spacers cannot do it.
    LookNext {
        /// What to look at.
        look: NextLook,
    },
    /// It may be inside tolerance already.
    MayBeInside {
        /// Chance to be inside.
        chance: f64,
    },
    /// Broadheads alone do not tell the bow from its heads: spin-test them, and shoot bare shafts.
    HeadsAlone,
    /// What other bows of its family have shown narrows what is expected of this one.
    FamilyKnown {
        /// How many.
        relatives: u32,
    },
    /// A remembered swap counts.
    SwapRemembered,
    /// The last swap moved it farther out, or not at all.
    SwapMadeItWorse {
        /// The split before it, mm.
        before_mm: f64,
        /// The split after it, mm.
        after_mm: f64,
    },
    /// The cams stand farther apart than the tilt limit.
    CamsApart {
        /// Top cam's offset minus the bottom cam's, mm.
        tilt_mm: f64,
        /// The limit, mm.
        limit_mm: f64,
    },
    /// A better fitting needs pieces that are not at hand.
    PiecesNotAtHand {
        /// The pair that is missing.
        pair: String,
        /// Expected size of the split there, mm.
        after_mm: f64,
    },
    /// The two axles would carry different seats.
    UnequalAxles {
        /// Top cam's offset minus the bottom cam's, mm.
        tilt_mm: f64,
    },
    /// More arrows are worth shooting.
    MoreArrowsPay {
        /// What they are expected to save, mm.
        saving_mm: f64,
        /// How many arrows.
        arrows: u32,
    },
    /// A set-up check comes before any tuning.
    CheckFirst {
        /// Which.
        check: CheckItem,
        /// Whether it has failed (else it is open).
        failed: bool,
        /// What was measured outside what the bow maker states.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        found: Option<OutOfRange>,
    },
    /// The vertical split comes first.
    VerticalFirst {
        /// What of it is out; a verdict given before it was said has none.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        kind: Option<Probe>,
        /// What is left after gravity and drag, mm.
        y_mm: f64,
        /// Its standard deviation, mm.
        sd_mm: f64,
        /// Which way the nocking point goes.
        direction: Direction,
    },
    /// What gravity and drag explain of the vertical split.
    VerticalExplained {
        /// Which probe.
        kind: Probe,
        /// Expected vertical difference, mm.
        y_mm: f64,
        /// What is left of the height without it, mm; a verdict given before it was said has none.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        left_mm: Option<f64>,
    },
    /// One arrow stands apart from its group.
    ArrowApart {
        /// The trial.
        trial: i64,
        /// Its kind.
        kind: ArrowKind,
        /// Its place in the trial's list, from 0.
        index: u32,
    },
    /// A numbered arrow keeps landing apart from the others.
    ArrowHabit {
        /// The number on its shaft.
        arrow: i32,
        /// Its kind.
        kind: ArrowKind,
        /// Groups it was part of.
        trials: u32,
        /// How far from the others on average, brought to 20 yd, mm, positive right.
        x_mm: f64,
        /// The same up and down, mm, positive up.
        y_mm: f64,
        /// Chance that any of a set of like arrows seems so.
        p: f64,
    },
    /// Fletched groups wander sideways with distance, if every one was aimed at the same line.
    WalkBackShows {
        /// What that means.
        meaning: WalkBackMeaning,
        /// Sideways per distance, mm per m, positive right.
        slant_mm_per_m: f64,
        /// Its standard deviation, mm per m.
        sd_mm_per_m: f64,
        /// Nearest distance, m.
        near_m: f64,
        /// Farthest distance, m.
        far_m: f64,
    },
    /// Paper and bare shafts show opposite faults, or only paper shows one: one launch fault hardly does that.
    OppositeSigns {
        /// The tear sideways, mm.
        tear_mm: f64,
        /// Where bare shafts land sideways, mm.
        bare_mm: f64,
    },
    /// The same up and down: no one height of the nocking point does both.
    OppositeHeights {
        /// The tear up and down, mm, positive nock-high.
        tear_mm: f64,
        /// Where bare shafts land, gravity and drag taken off, mm, positive high.
        bare_mm: f64,
    },
    /// Broadheads stand apart from bare shafts: heads that run untrue, or vanes that touch.
    HeadsApart {
        /// Where broadheads land sideways, mm.
        heads_mm: f64,
        /// Where bare shafts land sideways, mm.
        bare_mm: f64,
    },
    /// The last move of cams or rest took broadheads the other way than bare shafts.
    HeadsMovedApart {
        /// How far it took broadheads, sideways, mm.
        heads_mm: f64,
        /// How far it took bare shafts, sideways, mm.
        bare_mm: f64,
    },
    /// Broadheads land higher or lower than gravity and drag explain, while bare shafts are level.
    HeadsOffHeight {
        /// How far, up positive, mm.
        y_mm: f64,
    },
    /// The height is out, and the nocking point was moved for it and does not answer.
    HeightStays {
        /// What of it is out.
        kind: Probe,
        /// How far, gravity and drag taken off, up positive, mm.
        y_mm: f64,
        /// Its standard deviation, mm.
        sd_mm: f64,
    },
    /// Whoever shoots now and somebody else land apart with the bow as it stands.
    ShootersDiffer {
        /// Which probe.
        kind: Probe,
        /// The split of whoever shoots now minus the other's, sideways, mm.
        x_mm: f64,
        /// Half the width of its 95 % interval, mm.
        plus_minus_mm: f64,
        /// Where both shot, m.
        distance_m: f64,
    },
    /// Bare shafts scatter far more than fletched ones.
    BareScatter {
        /// Ratio of the standard deviations.
        ratio: f64,
    },
    /// Broadheads scatter far more than field points.
    HeadsScatter {
        /// Ratio of the standard deviations.
        ratio: f64,
    },
    /// One trial disagrees with the others.
    TrialDisagrees {
        /// The trial.
        trial: i64,
        /// How many standard deviations off.
        sds: f64,
    },
    /// Older trials count only for how the bow answers.
    OlderEpochs {
        /// How many trials.
        trials: u32,
    },
    /// Several distances were combined with the flight model, not by dividing by distance.
    DistancesCombined {
        /// Model error allowed per doubling of distance, 0 to 1.
        model_error: f64,
    },
    /// A tear alone does not fix where bare shafts land.
    PaperAlone,
    /// A clean paper hole does not prove that broadheads agree: shoot them to prove it.
    NotYetShot {
        /// Which probe of the priority has not been shot.
        kind: Probe,
    },
    /// The probe asked for first is in, and no step that is left brings another one in as well.
    FirstIsIn {
        /// The one asked for first.
        first: Probe,
        /// The other one.
        other: Probe,
    },
    /// Shot before the last move of cams or rest and not since: where that took it is only expected.
    NotShotSince {
        /// Which probe of the priority.
        kind: Probe,
    },
    /// Schools disagree on which way the rest moves; this bow has not shown it.
    RestDirectionDisputed,
    /// This bow has shown which way the rest moves a split.
    RestDirectionSeen {
        /// Split at 20 yd per mm of rest, mm/mm.
        mm_per_mm: f64,
        /// How sure the direction is.
        chance: f64,
    },
    /// Weak and stiff labels flip between shooters and distances: no direction is drawn from them.
    SpineLabelsDisputed,
}
