//! Pictures as lists of shapes.

use shimwright::frame::ArrowKind;
use shimwright::scene::{
    Anchor, Fill, LabelText, Role, Scene, SceneItem, ScenePoint, Shape, Stroke, Word,
};
use shimwright::spacer::Fitting;

#[uniffi::remote(Record)]
pub struct ScenePoint {
    pub x: f64,
    pub y: f64,
}

#[uniffi::remote(Enum)]
pub enum Role {
    Ground,
    Card,
    Line,
    Ink,
    Muted,
    Spacer,
    OnSpacer,
    LimbTip,
    Cam,
    FaceOuter,
    FaceMiddle,
    FaceInner,
    FaceCentre,
    Paper,
    Hole,
    Fletched,
    Bare,
    Broadhead,
    Split,
    Expected,
    Tolerance,
    Settled,
    WantsYou,
    Found,
}

#[uniffi::remote(Enum)]
pub enum Anchor {
    Start,
    Middle,
    End,
}

#[uniffi::remote(Enum)]
pub enum Word {
    Now,
    Fit,
    Before,
    After,
    TopAxle,
    BottomAxle,
    Left,
    Right,
    ExpectedAfter,
    Tolerance,
    SplitAxis,
    Thick,
    Thin,
    StringSide,
    CamStays,
    NotSnapped,
    Proposed,
    Point,
    Nock,
}

#[uniffi::remote(Enum)]
pub enum LabelText {
    Fixed {
        word: Word,
    },
    Kind {
        kind: ArrowKind,
    },
    Own {
        text: String,
    },
    SpacerPair {
        name: String,
    },
    Thickness {
        thickness_mm: f64,
    },
    Length {
        length_mm: f64,
    },
    CamMove {
        shift_mm: f64,
    },
    Sideways {
        x_mm: f64,
        plus_minus_mm: f64,
    },
    Height {
        y_mm: f64,
        plus_minus_mm: f64,
    },
    Offset {
        x_mm: f64,
        y_mm: f64,
        plus_minus_mm: f64,
    },
    Fitted {
        fitting: Fitting,
    },
    AxisValue {
        value_mm: f64,
    },
    Day {
        at_ms: i64,
    },
    Number {
        number: i64,
    },
}

#[uniffi::remote(Enum)]
pub enum Shape {
    Circle {
        centre: ScenePoint,
        radius: f64,
    },
    Ellipse {
        centre: ScenePoint,
        radius_x: f64,
        radius_y: f64,
        turn_rad: f64,
    },
    Line {
        from: ScenePoint,
        to: ScenePoint,
    },
    Polyline {
        points: Vec<ScenePoint>,
    },
    Polygon {
        points: Vec<ScenePoint>,
    },
    Rect {
        corner: ScenePoint,
        width: f64,
        height: f64,
        round: f64,
    },
    Label {
        at: ScenePoint,
        text: LabelText,
        height: f64,
        anchor: Anchor,
        bold: bool,
    },
    Photograph {
        corner: ScenePoint,
        width: f64,
        height: f64,
    },
}

#[uniffi::remote(Record)]
pub struct Fill {
    pub role: Role,
    pub opacity: f64,
}

#[uniffi::remote(Record)]
pub struct Stroke {
    pub role: Role,
    pub width: f64,
    pub dashed: bool,
}

#[uniffi::remote(Record)]
pub struct SceneItem {
    pub shape: Shape,
    pub fill: Option<Fill>,
    pub stroke: Option<Stroke>,
}

#[uniffi::remote(Record)]
pub struct Scene {
    pub view_x: f64,
    pub view_y: f64,
    pub view_width: f64,
    pub view_height: f64,
    pub items: Vec<SceneItem>,
}
