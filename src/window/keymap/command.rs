//! What keys and buttons can ask for.

use crate::window::write::moments::Moment;

/// Something that a key does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Command {
    /// Moves by so many frames.
    Step(i64),
    /// Shows the first frame.
    First,
    /// Shows the last frame.
    Last,
    /// Plays, or stops playing.
    Play,
    /// Plays from now on at one `n`th of real speed.
    Speed(u8),
    /// Shows the picture larger.
    ZoomIn,
    /// Shows the picture smaller.
    ZoomOut,
    /// Shows the whole picture.
    Fit,
    /// Shows one pixel of the picture as one pixel of the screen.
    OneToOne,
    /// Moves the picture by eighths of the space it has: right, down.
    Pan(i8, i8),
    /// Goes to the next mark in time.
    NextMark,
    /// Goes to the mark before in time.
    MarkBefore,
    /// Chooses the next line of the paper.
    NextLine,
    /// Chooses the line of the paper before.
    LineBefore,
    /// Moves what is chosen to the frame on screen.
    MoveHere,
    /// Hangs what is chosen under the element after, or before.
    Hang(i8),
    /// Takes away what is chosen.
    Remove,
    /// Undoes the last change.
    Undo,
    /// Does the last change undone again.
    Redo,
    /// Writes the marks file now.
    Save,
    /// Does what a message about something that went wrong offers, by its place.
    Remedy(u8),
    /// Begins to write.
    Write,
    /// Puts one of the commonest moments at the frame on screen.
    Put(Moment),
    /// Answers what a rule asks of the chosen element: it is met.
    CallMet,
    /// The same: it is not met.
    CallNotMet,
    /// The same: it cannot be told.
    CallCantTell,
    /// Writes the chosen line anew.
    EditLine,
    /// Says of the chosen mark that it was seen, did not happen, cannot be told, is not visible.
    TurnSeen,
    /// Begins to place the points of an angle.
    Measure,
    /// Opens the planes of known size.
    Planes,
    /// Shows or hides the angle that a rule asks for.
    Asked,
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
    /// Takes a bent leg's knee in place of its ankle.
    Bent,
    /// Asks for a plumb or level line.
    Line,
    /// Ties the picture to the world by the next plane, or by none.
    NextPlane,
    /// Says how far off square the camera may stand: the next step.
    OffSquare,
    /// Says about how far a turn goes, in half turns.
    HalfTurns(u8),
    /// Opens the routine's header.
    Header,
    /// Lists the routines of the clip.
    Routines,
    /// Begins another routine of the clip.
    NewRoutine,
    /// Opens the next routine of the clip, or the one before.
    TurnRoutine(i8),
    /// The routine begins at the frame on screen.
    BeginsHere,
    /// The routine ends at the frame on screen.
    EndsHere,
    /// Shows the judge's card of the routine's event and division.
    Card,
    /// Shows the elements of the event.
    Chart,
    /// Goes through the instants that the rules of this event look at.
    Walk,
    /// Plays from the mark before to the mark after, over and over.
    Loop,
    /// Turns a wrongly tagged picture by a quarter, clockwise.
    TurnPicture,
    /// Swaps left and right of a wrongly tagged picture.
    MirrorPicture,
    /// Wears the next look.
    NextLook,
    /// Shows everything larger, smaller, or as usual (0).
    TextSize(i8),
    /// Opens another clip.
    Open,
    /// Shows a second clip beside this one.
    LayBeside,
    /// Ties two clips at the frames on screen, or unties them.
    Tie,
    /// Goes to the other of two clips.
    OtherSide,
    /// Shows one of two clips alone.
    Alone,
    /// Draws the sample clips and opens one.
    Demo,
    /// Shows figures for the eye.
    TrainEye,
    /// Shows the library.
    Library,
    /// Chooses another clip of the wall: right, down.
    Tile(i8, i8),
    /// Completes the word that is written.
    Complete,
    /// Takes a folder into the library.
    AddFolder,
    /// Looks through the library's folders.
    LookAgain,
    /// Keeps the search under a name.
    SaveSearch,
    /// Makes a set of what is found.
    MakeSet,
    /// Gives everything that is found the same settings.
    Assign,
    /// Puts the judges of the chosen routine side by side.
    Judges,
    /// Shows or hides the help sheet.
    Help,
    /// Closes what is open, or gives up what is chosen.
    Leave,
    /// Does the next thing of a sitting: looks, goes to the next answer, goes on.
    GoOn,
    /// Goes to the next answer, or to the one before.
    TurnAnswer(i8),
    /// Hands the answers in.
    HandIn,
}
