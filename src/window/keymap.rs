//! The one table from key to command; the handler and the help sheet both read it.

use iced::keyboard::{Event, Key, Modifiers, key::Named};

use super::moments::Moment;

/// Something that a key does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Command {
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
    /// Takes away what is chosen.
    Remove,
    /// Undoes the last change.
    Undo,
    /// Does the last change undone again.
    Redo,
    /// Writes the marks file now.
    Save,
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
    /// Opens the routine's header.
    Header,
    /// Opens another clip.
    Open,
    /// Shows or hides the help sheet.
    Help,
    /// Closes what is open, or gives up what is chosen.
    Leave,
}

/// Which keys beside the key itself are held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Held {
    /// None.
    Nothing,
    /// Shift.
    Shift,
    /// Ctrl, or Command on a Mac.
    Ctrl,
    /// Both.
    CtrlShift,
}

/// A key as the table names it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cap {
    /// A key with a name.
    Named(Named),
    /// A key that writes; a letter stands for the key, a sign for what is written.
    Writes(char),
}

/// One line of the table.
#[derive(Clone, Copy, Debug)]
pub struct Binding {
    /// What must be held.
    pub held: Held,
    /// The key.
    pub cap: Cap,
    /// What it does.
    pub command: Command,
    /// Under which heading of the help sheet it stands.
    pub group: Group,
    /// What the help sheet says.
    pub says: &'static str,
}

/// A heading of the help sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Group {
    /// Going through the clip.
    Clip,
    /// Looking at the picture.
    Picture,
    /// The commonest moments.
    Moments,
    /// Writing, choosing, changing.
    Paper,
    /// Everything else.
    Program,
}

impl Group {
    /// All headings in the order of the help sheet.
    pub const ALL: [Self; 5] =
        [Self::Clip, Self::Picture, Self::Moments, Self::Paper, Self::Program];

    /// Returns the heading.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Clip => "Going through the clip",
            Self::Picture => "Looking at the picture",
            Self::Moments => "One key, one moment, at the frame on screen",
            Self::Paper => "The paper",
            Self::Program => "The program",
        }
    }
}

const fn bind(held: Held, cap: Cap, command: Command, group: Group, says: &'static str) -> Binding {
    Binding { held, cap, command, group, says }
}

/// Every key of the clip screen.
pub const KEYMAP: &[Binding] = &[
    bind(Held::Nothing, Cap::Named(Named::ArrowRight), Command::Step(1), Group::Clip, "next frame"),
    bind(
        Held::Nothing,
        Cap::Named(Named::ArrowLeft),
        Command::Step(-1),
        Group::Clip,
        "frame before",
    ),
    bind(
        Held::Shift,
        Cap::Named(Named::ArrowRight),
        Command::Step(10),
        Group::Clip,
        "ten frames on",
    ),
    bind(
        Held::Shift,
        Cap::Named(Named::ArrowLeft),
        Command::Step(-10),
        Group::Clip,
        "ten frames back",
    ),
    bind(Held::Nothing, Cap::Named(Named::Home), Command::First, Group::Clip, "first frame"),
    bind(Held::Nothing, Cap::Named(Named::End), Command::Last, Group::Clip, "last frame"),
    bind(Held::Nothing, Cap::Named(Named::Space), Command::Play, Group::Clip, "play, stop"),
    bind(Held::Nothing, Cap::Writes('1'), Command::Speed(1), Group::Clip, "real speed"),
    bind(Held::Nothing, Cap::Writes('2'), Command::Speed(2), Group::Clip, "half speed"),
    bind(Held::Nothing, Cap::Writes('4'), Command::Speed(4), Group::Clip, "quarter speed"),
    bind(Held::Nothing, Cap::Writes('8'), Command::Speed(8), Group::Clip, "eighth of the speed"),
    bind(Held::Nothing, Cap::Named(Named::PageDown), Command::NextMark, Group::Clip, "next mark"),
    bind(Held::Nothing, Cap::Named(Named::PageUp), Command::MarkBefore, Group::Clip, "mark before"),
    bind(
        Held::Nothing,
        Cap::Writes('+'),
        Command::ZoomIn,
        Group::Picture,
        "larger (also the wheel)",
    ),
    bind(Held::Nothing, Cap::Writes('='), Command::ZoomIn, Group::Picture, "larger"),
    bind(Held::Nothing, Cap::Writes('-'), Command::ZoomOut, Group::Picture, "smaller"),
    bind(Held::Nothing, Cap::Writes('0'), Command::Fit, Group::Picture, "the whole picture"),
    bind(
        Held::Nothing,
        Cap::Writes('9'),
        Command::OneToOne,
        Group::Picture,
        "one pixel to one pixel",
    ),
    bind(
        Held::Ctrl,
        Cap::Named(Named::ArrowRight),
        Command::Pan(1, 0),
        Group::Picture,
        "look further right",
    ),
    bind(
        Held::Ctrl,
        Cap::Named(Named::ArrowLeft),
        Command::Pan(-1, 0),
        Group::Picture,
        "look further left",
    ),
    bind(
        Held::Ctrl,
        Cap::Named(Named::ArrowDown),
        Command::Pan(0, 1),
        Group::Picture,
        "look further down",
    ),
    bind(
        Held::Ctrl,
        Cap::Named(Named::ArrowUp),
        Command::Pan(0, -1),
        Group::Picture,
        "look further up",
    ),
    moment('s', Moment::Swing),
    moment('c', Moment::Contact),
    moment('r', Moment::Release),
    moment('h', Moment::HeelLift),
    moment('d', Moment::HeelDrop),
    moment('l', Moment::Landing),
    moment('b', Moment::Brush),
    moment('f', Moment::Fall),
    moment('p', Moment::Spot),
    moment('t', Moment::Stop),
    bind(
        Held::Nothing,
        Cap::Named(Named::Enter),
        Command::Write,
        Group::Paper,
        "write what you see",
    ),
    bind(Held::Nothing, Cap::Writes('/'), Command::Write, Group::Paper, "write what you see"),
    bind(Held::Nothing, Cap::Named(Named::ArrowDown), Command::NextLine, Group::Paper, "next line"),
    bind(
        Held::Nothing,
        Cap::Named(Named::ArrowUp),
        Command::LineBefore,
        Group::Paper,
        "line before",
    ),
    bind(
        Held::Nothing,
        Cap::Writes('m'),
        Command::MoveHere,
        Group::Paper,
        "move the chosen line to this frame",
    ),
    bind(
        Held::Nothing,
        Cap::Named(Named::Delete),
        Command::Remove,
        Group::Paper,
        "remove the chosen line",
    ),
    bind(
        Held::Nothing,
        Cap::Named(Named::Backspace),
        Command::Remove,
        Group::Paper,
        "remove the chosen line",
    ),
    bind(Held::Nothing, Cap::Writes('y'), Command::CallMet, Group::Paper, "what is asked is met"),
    bind(Held::Nothing, Cap::Writes('n'), Command::CallNotMet, Group::Paper, "it is not met"),
    bind(
        Held::Nothing,
        Cap::Writes('u'),
        Command::CallCantTell,
        Group::Paper,
        "unsure: can't tell",
    ),
    bind(Held::Ctrl, Cap::Writes('z'), Command::Undo, Group::Paper, "undo"),
    bind(Held::CtrlShift, Cap::Writes('z'), Command::Redo, Group::Paper, "do again"),
    bind(Held::Ctrl, Cap::Writes('y'), Command::Redo, Group::Paper, "do again"),
    bind(
        Held::Ctrl,
        Cap::Writes('r'),
        Command::Header,
        Group::Paper,
        "what is judged: event, division, codes",
    ),
    bind(
        Held::Ctrl,
        Cap::Writes('s'),
        Command::Save,
        Group::Program,
        "save now (it also saves by itself)",
    ),
    bind(Held::Ctrl, Cap::Writes('o'), Command::Open, Group::Program, "open a clip"),
    bind(Held::Nothing, Cap::Writes('?'), Command::Help, Group::Program, "this sheet"),
    bind(Held::Nothing, Cap::Named(Named::F1), Command::Help, Group::Program, "this sheet"),
    bind(Held::Nothing, Cap::Named(Named::Escape), Command::Leave, Group::Program, "close, let go"),
];

const fn moment(letter: char, moment: Moment) -> Binding {
    bind(Held::Nothing, Cap::Writes(letter), Command::Put(moment), Group::Moments, moment.says())
}

/// Returns what a key event asks for; nothing when it asks for nothing.
///
/// Events that a field has captured never come here, so letters are safe while someone writes.
pub fn command_for(event: &Event) -> Option<Command> {
    let Event::KeyPressed { key, modified_key, physical_key, modifiers, repeat, .. } = event else {
        return None;
    };
    let held = held(*modifiers)?;
    let letter = key.to_latin(*physical_key).map(|letter| letter.to_ascii_lowercase());
    let sign = written(modified_key);
    let binding = KEYMAP.iter().find(|binding| match binding.cap {
        Cap::Named(named) => binding.held == held && *key == Key::Named(named),
        Cap::Writes(c) if c.is_ascii_alphabetic() => binding.held == held && letter == Some(c),
        // Shift belongs to writing a sign on one keyboard and not on the next.
        Cap::Writes(c) => binding.held == without_shift(held) && sign == Some(c),
    })?;
    (!repeat || repeats(binding.command)).then_some(binding.command)
}

/// Returns how a key is called on the help sheet.
pub fn name_of(binding: &Binding) -> String {
    let key = match binding.cap {
        Cap::Named(Named::ArrowRight) => "→".to_owned(),
        Cap::Named(Named::ArrowLeft) => "←".to_owned(),
        Cap::Named(Named::ArrowUp) => "↑".to_owned(),
        Cap::Named(Named::ArrowDown) => "↓".to_owned(),
        Cap::Named(Named::PageDown) => "Page down".to_owned(),
        Cap::Named(Named::PageUp) => "Page up".to_owned(),
        Cap::Named(Named::Escape) => "Esc".to_owned(),
        Cap::Named(named) => format!("{named:?}"),
        Cap::Writes(c) => c.to_uppercase().to_string(),
    };
    let held = match binding.held {
        Held::Nothing => "",
        Held::Shift => "Shift ",
        Held::Ctrl => "Ctrl ",
        Held::CtrlShift => "Ctrl Shift ",
    };
    format!("{held}{key}")
}

/// Returns the key that puts a moment, as the help sheet names it.
pub fn key_of(moment: Moment) -> String {
    KEYMAP
        .iter()
        .find(|binding| binding.command == Command::Put(moment))
        .map(name_of)
        .unwrap_or_default()
}

fn written(key: &Key) -> Option<char> {
    match key {
        Key::Character(text) => text.chars().next(),
        _ => None,
    }
}

fn held(modifiers: Modifiers) -> Option<Held> {
    if modifiers.alt() {
        return None;
    }
    Some(match (modifiers.command(), modifiers.shift()) {
        (false, false) => Held::Nothing,
        (false, true) => Held::Shift,
        (true, false) => Held::Ctrl,
        (true, true) => Held::CtrlShift,
    })
}

const fn without_shift(held: Held) -> Held {
    match held {
        Held::Nothing | Held::Shift => Held::Nothing,
        Held::Ctrl | Held::CtrlShift => Held::Ctrl,
    }
}

/// A key held down may step on and on, but must not put one fall after the other.
const fn repeats(command: Command) -> bool {
    matches!(
        command,
        Command::Step(_)
            | Command::ZoomIn
            | Command::ZoomOut
            | Command::Pan(..)
            | Command::NextLine
            | Command::LineBefore
            | Command::NextMark
            | Command::MarkBefore
            | Command::Undo
            | Command::Redo
    )
}

#[cfg(test)]
mod tests {
    use iced::keyboard::{Location, key::Physical};

    use super::*;

    fn press(key: Key, modified: Key, modifiers: Modifiers) -> Event {
        Event::KeyPressed {
            key,
            modified_key: modified,
            physical_key: Physical::Unidentified(iced::keyboard::key::NativeCode::Unidentified),
            location: Location::Standard,
            modifiers,
            text: None,
            repeat: false,
        }
    }

    fn letter(c: &str, modifiers: Modifiers) -> Event {
        press(Key::Character(c.into()), Key::Character(c.into()), modifiers)
    }

    #[test]
    fn no_key_means_two_things() {
        for (at, one) in KEYMAP.iter().enumerate() {
            for other in &KEYMAP[at + 1..] {
                assert!(
                    (one.held, one.cap) != (other.held, other.cap),
                    "{} means {:?} and {:?}",
                    name_of(one),
                    one.command,
                    other.command
                );
            }
        }
    }

    #[test]
    fn arrows_step_and_shift_makes_ten() {
        let right = Key::Named(Named::ArrowRight);
        let event = |modifiers| press(right.clone(), right.clone(), modifiers);
        assert_eq!(command_for(&event(Modifiers::empty())), Some(Command::Step(1)));
        assert_eq!(command_for(&event(Modifiers::SHIFT)), Some(Command::Step(10)));
        assert_eq!(command_for(&event(Modifiers::COMMAND)), Some(Command::Pan(1, 0)));
        assert_eq!(command_for(&event(Modifiers::ALT)), None);
    }

    #[test]
    fn a_sign_is_what_is_written_whatever_must_be_held_for_it() {
        let question =
            press(Key::Character("/".into()), Key::Character("?".into()), Modifiers::SHIFT);
        assert_eq!(command_for(&question), Some(Command::Help));
        let plain = press(Key::Character("ß".into()), Key::Character("?".into()), Modifiers::SHIFT);
        assert_eq!(command_for(&plain), Some(Command::Help));
        assert_eq!(command_for(&letter("/", Modifiers::empty())), Some(Command::Write));
    }

    #[test]
    fn undo_and_redo_differ_by_shift() {
        assert_eq!(command_for(&letter("z", Modifiers::COMMAND)), Some(Command::Undo));
        let both = Modifiers::COMMAND | Modifiers::SHIFT;
        assert_eq!(command_for(&letter("Z", both)), Some(Command::Redo));
    }

    #[test]
    fn a_held_key_steps_on_but_puts_one_mark() {
        let repeated = |c: &str| match letter(c, Modifiers::empty()) {
            Event::KeyPressed {
                key,
                modified_key,
                physical_key,
                location,
                modifiers,
                text,
                ..
            } => Event::KeyPressed {
                key,
                modified_key,
                physical_key,
                location,
                modifiers,
                text,
                repeat: true,
            },
            other => other,
        };
        assert_eq!(command_for(&repeated("f")), None);
        assert_eq!(command_for(&repeated("-")), Some(Command::ZoomOut));
    }
}
