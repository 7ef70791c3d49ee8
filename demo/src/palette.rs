//! The light palette: which colour each role of a scene is drawn in.

use shimwright::scene::Role;

/// The colour of a role on light ground, `#rrggbb`.
pub(crate) fn colour(role: Role) -> &'static str {
    match role {
        Role::Ground => "#f5f2ea",
        Role::Card | Role::OnSpacer => "#ffffff",
        Role::Line => "#d9d3c5",
        Role::Ink | Role::Fletched => "#1d2328",
        Role::Muted => "#5a646c",
        Role::Spacer => "#855600",
        Role::LimbTip => "#8b96a0",
        Role::Cam => "#c4cbd1",
        Role::FaceOuter => "#f4f1e8",
        Role::FaceMiddle => "#ebe5d8",
        Role::FaceInner => "#e0d8c7",
        Role::FaceCentre => "#d3c8b2",
        Role::Paper => "#faf8f2",
        Role::Hole => "#2b2a27",
        Role::Bare | Role::Split => "#0a5fa3",
        Role::Broadhead | Role::WantsYou => "#9a3412",
        Role::Expected | Role::Settled | Role::Tolerance | Role::Found => "#1f6b45",
    }
}
