//! The primitives of a scene and the roles they play.

use super::label::{Anchor, LabelText};

/// A point of a scene, scene units, y DOWN.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct ScenePoint {
    /// Rightwards.
    pub x: f64,
    /// Downwards.
    pub y: f64,
}

impl ScenePoint {
    /// The point `(x, y)`.
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// This point moved by `(dx, dy)`.
    #[must_use]
    pub fn moved(self, dx: f64, dy: f64) -> Self {
        Self::new(self.x + dx, self.y + dy)
    }
}

/// What a shape stands for. The pen gives each role its colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Role {
    /// The page behind everything.
    Ground,
    /// A card lying on the ground; also the halo that lifts a mark off what is under it.
    Card,
    /// A card's edge, a chart's grid.
    Line,
    /// Main text and outlines.
    Ink,
    /// Second text, axes, the dashed middle.
    Muted,
    /// A spacer: brass, everywhere.
    Spacer,
    /// Text on brass.
    OnSpacer,
    /// A limb tip: steel.
    LimbTip,
    /// A cam: pale.
    Cam,
    /// The outermost band of a face.
    FaceOuter,
    /// The second band of a face.
    FaceMiddle,
    /// The third band of a face.
    FaceInner,
    /// The centre of a face.
    FaceCentre,
    /// A sheet of paper.
    Paper,
    /// A hole or slit in paper.
    Hole,
    /// Fletched arrows.
    Fletched,
    /// Bare shafts.
    Bare,
    /// Broadheads.
    Broadhead,
    /// The arrow from the reference group to the probe group.
    Split,
    /// Where the probe group is expected after the swap.
    Expected,
    /// The user's tolerance.
    Tolerance,
    /// Good news: settled, found, accepted.
    Settled,
    /// Wants the user: not found, doubtful, outside.
    WantsYou,
    /// Anything laid over a photograph as found by the reader (edges, rings).
    Found,
}

/// A primitive shape.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// A circle.
    Circle {
        /// Its centre.
        centre: ScenePoint,
        /// Its radius.
        radius: f64,
    },
    /// An ellipse.
    Ellipse {
        /// Its centre.
        centre: ScenePoint,
        /// Half-axis along the turned x.
        radius_x: f64,
        /// Half-axis along the turned y.
        radius_y: f64,
        /// Turn from +x towards +y (clockwise as seen), rad.
        turn_rad: f64,
    },
    /// A straight line.
    Line {
        /// One end.
        from: ScenePoint,
        /// The other end.
        to: ScenePoint,
    },
    /// An open line through points.
    Polyline {
        /// Two points or more.
        points: Vec<ScenePoint>,
    },
    /// A closed outline through points.
    Polygon {
        /// Three points or more.
        points: Vec<ScenePoint>,
    },
    /// An upright rectangle with rounded corners.
    Rect {
        /// Its top left corner.
        corner: ScenePoint,
        /// Width.
        width: f64,
        /// Height.
        height: f64,
        /// Corner radius, 0 for a sharp corner.
        round: f64,
    },
    /// One line of text.
    Label {
        /// A point of the baseline.
        at: ScenePoint,
        /// What it says.
        text: LabelText,
        /// Letter size (the em).
        height: f64,
        /// Which end of the text stands at `at`.
        anchor: Anchor,
        /// Whether it is set in bold.
        bold: bool,
    },
    /// The photograph, or its straight-on picture, that the scene is laid over: the pen brings the
    /// pixels that lie under this rectangle and stretches them over it. In a scene over a
    /// photograph the unit is its pixel, so the rectangle says which part of it is shown.
    Photograph {
        /// Its top left corner.
        corner: ScenePoint,
        /// Width.
        width: f64,
        /// Height.
        height: f64,
    },
}

impl Shape {
    /// The rectangle with the given centre.
    pub fn centred_rect(centre: ScenePoint, width: f64, height: f64, round: f64) -> Self {
        Self::Rect {
            corner: centre.moved(-width / 2.0, -height / 2.0),
            width,
            height,
            round,
        }
    }

    /// The straight line between two points.
    pub fn line(from: ScenePoint, to: ScenePoint) -> Self {
        Self::Line { from, to }
    }

    /// The circle around a point.
    pub fn circle(centre: ScenePoint, radius: f64) -> Self {
        Self::Circle { centre, radius }
    }

    /// This shape moved by `(dx, dy)`.
    #[must_use]
    pub fn moved(mut self, dx: f64, dy: f64) -> Self {
        let shift = |point: &mut ScenePoint| *point = point.moved(dx, dy);
        match &mut self {
            Self::Circle { centre, .. } | Self::Ellipse { centre, .. } => shift(centre),
            Self::Line { from, to } => {
                shift(from);
                shift(to);
            }
            Self::Polyline { points } | Self::Polygon { points } => {
                points.iter_mut().for_each(shift);
            }
            Self::Rect { corner, .. } | Self::Photograph { corner, .. } => shift(corner),
            Self::Label { at, .. } => shift(at),
        }
        self
    }
}

/// How the inside of a shape is painted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fill {
    /// What it stands for.
    pub role: Role,
    /// 0 (invisible) to 1 (opaque).
    pub opacity: f64,
}

/// How the outline of a shape is painted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stroke {
    /// What it stands for.
    pub role: Role,
    /// Line width, scene units; never drawn thinner than one of the pen's pixels.
    pub width: f64,
    /// Dashes of four line widths with gaps of three.
    pub dashed: bool,
}

/// One shape of a scene with its paint; at least one of the two is set. A photograph has neither.
#[derive(Debug, Clone, PartialEq)]
pub struct SceneItem {
    /// The shape.
    pub shape: Shape,
    /// Paint of the inside; the letters of a label.
    pub fill: Option<Fill>,
    /// Paint of the outline; the halo behind the letters of a label.
    pub stroke: Option<Stroke>,
}

impl SceneItem {
    pub(super) fn filled(shape: Shape, role: Role, opacity: f64) -> Self {
        Self {
            shape,
            fill: Some(Fill { role, opacity }),
            stroke: None,
        }
    }

    pub(super) fn outlined(shape: Shape, role: Role, width: f64, dashed: bool) -> Self {
        Self {
            shape,
            fill: None,
            stroke: Some(Stroke {
                role,
                width,
                dashed,
            }),
        }
    }
}
