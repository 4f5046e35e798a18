//! Placing points, of an angle or of a plane: its commands and their keys.

use iced::keyboard::key::Named;

use crate::window::keymap::binding::{Binding, Cap, Group, Held, bind, named, sign, with};

use Group::Points;
use Held::{Ctrl, Shift};

/// What keys and buttons ask for while points are placed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum PointCommand {
    /// Moves the chosen point by tenths of a pixel: right, down.
    Nudge(i16, i16),
    /// Puts the point that is asked for into the middle of what is shown.
    PutPoint,
    /// Takes back the point placed last.
    TakeBack,
    /// Keeps the angle.
    Keep,
    /// Passes over a point that cannot be seen.
    Skip,
    /// Asks for every point once more.
    Again,
    /// Moves by so many frames.
    Step(i64),
    /// Opens the planes of known size.
    Planes,
    /// What only an angle needs.
    Angle(AngleCommand),
}

/// What keys and buttons ask for while the points of an angle are placed, and not of a plane.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum AngleCommand {
    /// Takes a bent leg's knee in place of its ankle.
    Bent,
    /// Asks for a plumb or level line.
    Line,
    /// Ties the picture to the world by the next plane, or by none.
    NextPlane,
    /// Says how far off square the camera may stand: the next step.
    OffSquare,
    /// Says from how high the camera looks, or in a plane how far off it joints lie: the next of them.
    Beside,
    /// Forgets what is known of how well the person clicks.
    ForgetClicks,
    /// Says about how far a turn goes, in half turns.
    HalfTurns(u8),
}

/// What keys do while points are placed; what is not here is as always, where it fits.
pub(crate) const KEYS: &[Binding<PointCommand>] = &[
    with(Held::Nothing, Named::ArrowRight, PointCommand::Nudge(10, 0), Points, "a pixel right")
        .again(),
    with(Held::Nothing, Named::ArrowLeft, PointCommand::Nudge(-10, 0), Points, "a pixel left")
        .again(),
    with(Held::Nothing, Named::ArrowDown, PointCommand::Nudge(0, 10), Points, "a pixel down")
        .again(),
    with(Held::Nothing, Named::ArrowUp, PointCommand::Nudge(0, -10), Points, "a pixel up").again(),
    with(Shift, Named::ArrowRight, PointCommand::Nudge(1, 0), Points, "a tenth right").again(),
    with(Shift, Named::ArrowLeft, PointCommand::Nudge(-1, 0), Points, "a tenth left").again(),
    with(Shift, Named::ArrowDown, PointCommand::Nudge(0, 1), Points, "a tenth down").again(),
    with(Shift, Named::ArrowUp, PointCommand::Nudge(0, -1), Points, "a tenth up").again(),
    with(Ctrl, Named::ArrowRight, PointCommand::Nudge(200, 0), Points, "twenty right").again(),
    with(Ctrl, Named::ArrowLeft, PointCommand::Nudge(-200, 0), Points, "twenty left").again(),
    with(Ctrl, Named::ArrowDown, PointCommand::Nudge(0, 200), Points, "twenty down").again(),
    with(Ctrl, Named::ArrowUp, PointCommand::Nudge(0, -200), Points, "twenty up").again(),
    named(Named::Space, PointCommand::PutPoint, Points, "put the point in the middle (or click)"),
    named(Named::Backspace, PointCommand::TakeBack, Points, "take the last point back"),
    named(Named::Delete, PointCommand::TakeBack, Points, "take the last point back"),
    named(Named::Enter, PointCommand::Keep, Points, "keep it"),
    sign('v', PointCommand::Skip, Points, "not visible: pass over it"),
    sign(',', PointCommand::Step(-1), Points, "frame before").again(),
    sign('.', PointCommand::Step(1), Points, "next frame").again(),
    sign('r', PointCommand::Again, Points, "place every point again"),
    bind(
        Shift,
        Cap::Writes('r'),
        PointCommand::Angle(AngleCommand::ForgetClicks),
        Points,
        "forget how well you click",
    ),
    sign(
        'k',
        PointCommand::Angle(AngleCommand::Bent),
        Points,
        "the leg is bent: the knee, not the ankle",
    ),
    sign(
        'l',
        PointCommand::Angle(AngleCommand::Line),
        Points,
        "click an upright or a level edge; again: the other",
    ),
    sign(
        'o',
        PointCommand::Angle(AngleCommand::OffSquare),
        Points,
        "how far off square the camera is, or how far a length lies",
    ),
    bind(
        Shift,
        Cap::Writes('o'),
        PointCommand::Angle(AngleCommand::Beside),
        Points,
        "how high the camera stands, or how far off the plane joints lie",
    ),
    sign(
        'w',
        PointCommand::Angle(AngleCommand::NextPlane),
        Points,
        "measure in the next plane, or in none",
    ),
    bind(Shift, Cap::Writes('w'), PointCommand::Planes, Points, "place another plane"),
    sign('1', PointCommand::Angle(AngleCommand::HalfTurns(1)), Points, "about half a turn"),
    sign('2', PointCommand::Angle(AngleCommand::HalfTurns(2)), Points, "about a whole turn"),
    sign('3', PointCommand::Angle(AngleCommand::HalfTurns(3)), Points, "about one and a half"),
    sign('4', PointCommand::Angle(AngleCommand::HalfTurns(4)), Points, "about two"),
    sign('5', PointCommand::Angle(AngleCommand::HalfTurns(5)), Points, "about two and a half"),
    sign('6', PointCommand::Angle(AngleCommand::HalfTurns(6)), Points, "about three"),
];
