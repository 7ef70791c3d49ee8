//! The colours of paper: which one each role of a scene is printed in.

use crate::scene::Role;

/// A colour, sRGB.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Ink {
    /// Red, 0 to 255.
    pub red: u8,
    /// Green, 0 to 255.
    pub green: u8,
    /// Blue, 0 to 255.
    pub blue: u8,
}

/// The colour of a role on light ground.
pub const fn ink(role: Role) -> Ink {
    let rgb: u32 = match role {
        Role::Ground => 0x00f5_f2ea,
        Role::Card | Role::OnSpacer => 0x00ff_ffff,
        Role::Line => 0x00d9_d3c5,
        Role::Ink | Role::Fletched => 0x001d_2328,
        Role::Muted => 0x005a_646c,
        Role::Spacer => 0x0085_5600,
        Role::LimbTip => 0x008b_96a0,
        Role::Cam => 0x00c4_cbd1,
        Role::FaceOuter => 0x00f4_f1e8,
        Role::FaceMiddle => 0x00eb_e5d8,
        Role::FaceInner => 0x00e0_d8c7,
        Role::FaceCentre => 0x00d3_c8b2,
        Role::Paper => 0x00fa_f8f2,
        Role::Hole => 0x002b_2a27,
        Role::Bare | Role::Split => 0x000a_5fa3,
        Role::Broadhead | Role::WantsYou => 0x009a_3412,
        Role::Expected | Role::Settled | Role::Tolerance | Role::Found => 0x001f_6b45,
    };
    let [_, red, green, blue] = rgb.to_be_bytes();
    Ink { red, green, blue }
}
