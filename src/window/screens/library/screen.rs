//! The screen itself: what is known, and what messages do.

use std::{
    cell::Cell,
    collections::{BTreeMap, BTreeSet},
    path::PathBuf,
    sync::Arc,
};

use iced::{
    Subscription, Task, keyboard,
    widget::{
        Id,
        operation::{AbsoluteOffset, scroll_to},
    },
};

use crate::{
    footage::ApartDecoder,
    library::KnownNames,
    report::Document,
    window::{
        controls::Tab,
        keymap::{self, LibraryCommand},
        screens::{
            place,
            record::{RecordForm, RecordMessage},
        },
        typing::{self, Line, Typed},
        viewer::arrived::Arrived,
    },
};

use super::{
    aside::aside,
    asking::{Asking, What, takes},
    erasing::EraseAsked,
    handing::HandOut,
    jobs::{self, FoundPage, Kept},
    judges::JudgesShown,
    looking::Looking,
    message::{Action, Message},
    room::Room,
    taking::TakeIn,
    tile::{Look, Seen, Tile},
    words,
};

/// Name of the part that is scrolled.
pub(super) const WALL: &str = "wall";

/// The screen.
pub(crate) struct Library {
    pub(super) query: Line,
    /// The words that were searched for last.
    pub(super) searched: String,
    /// Counts searches; what an older one found is of no use.
    pub(super) search: u64,
    /// Which search the tiles are of.
    pub(super) tiles_of: u64,
    pub(super) found: Option<FoundPage>,
    /// What may follow each word of a search.
    pub(super) known: KnownNames,
    /// Tiles by the number of their page.
    pub(super) pages: BTreeMap<u32, Vec<Tile>>,
    /// What was seen of clips before they were searched for again.
    pub(super) seen: BTreeMap<PathBuf, Seen>,
    /// Pages that are being fetched.
    pub(super) fetching: BTreeSet<u32>,
    /// The tile that is chosen, by its place.
    pub(super) chosen: Option<u32>,
    /// How far the wall is scrolled, in logical pixels.
    pub(super) scrolled: f32,
    /// What the wall has room for, as it was drawn last.
    pub(super) room: Cell<Room>,
    /// The index was opened, and the folders are looked through since.
    pub(super) begun: bool,
    /// A clip is being looked at.
    pub(super) drawing: bool,
    pub(super) looking: Option<Looking>,
    pub(super) asking: Option<Asking>,
    /// What went wrong with the words of the search.
    pub(super) fault: Option<String>,
    /// What was done, or went wrong.
    pub(super) said: Option<String>,
    /// A set that was made.
    pub(super) set: Option<PathBuf>,
    /// Judges of one routine, while they are looked at side by side.
    pub(super) judges: Option<JudgesShown>,
    /// Several sheets put together, while they are looked at.
    pub(super) page: Option<Arc<Document>>,
    /// What is noted of a clip, while it is looked at as a form.
    pub(super) record: Option<RecordForm>,
    /// What is to be erased.
    pub(super) erasing: Option<EraseAsked>,
    /// How often something was.
    pub(super) erasings: u64,
    /// A bundle that is handed out.
    pub(super) handing: Option<HandOut>,
    /// A bundle that is taken in.
    pub(super) taking: Option<TakeIn>,
    /// Counts what was asked over the wall: what ends for an older one is of no use.
    pub(super) over_wall: u64,
    /// Rule book of the last routine, for what is begun anew.
    pub(super) book: String,
    /// Where the library is kept.
    pub(super) kept: Kept,
    /// Who decodes clips of which nobody knows where they come from.
    pub(super) apart: ApartDecoder,
    pub(super) arrived: Arrived,
}

impl Library {
    /// Returns the wall with these words searched for, and what is to be done first.
    pub(crate) fn open(
        words: &str,
        book: String,
        (kept, apart): (Kept, ApartDecoder),
    ) -> (Self, Task<Message>) {
        let mut library = Self {
            query: Line::new(words),
            searched: String::new(),
            search: 0,
            tiles_of: 0,
            found: None,
            known: KnownNames::default(),
            pages: BTreeMap::new(),
            seen: BTreeMap::new(),
            fetching: BTreeSet::new(),
            chosen: None,
            scrolled: 0.0,
            room: Cell::default(),
            begun: false,
            drawing: false,
            looking: None,
            asking: None,
            fault: None,
            said: None,
            set: None,
            judges: None,
            page: None,
            record: None,
            erasing: None,
            erasings: 0,
            handing: None,
            taking: None,
            over_wall: 0,
            book,
            kept,
            apart,
            arrived: Arrived::default(),
        };
        let first = library.search();
        (library, first)
    }

    /// Shows the wall again as it was left, and looks what changed meanwhile.
    pub(crate) fn come_back(&mut self) -> Task<Message> {
        // What was under way told a screen that was not there.
        if let Some(looking) = self.looking.take() {
            looking.stop();
        }
        (self.drawing, self.said) = (false, None);
        let offset = AbsoluteOffset { x: 0.0, y: self.scrolled };
        let place = scroll_to(Id::new(WALL), offset);
        let judges = self.read_judges_again();
        Task::batch([place, self.search_again(), judges, self.look()])
    }

    /// Says what went wrong.
    pub(crate) fn complain(&mut self, why: String) {
        self.said = Some(why);
    }

    /// Returns the window's title.
    pub(crate) fn title() -> String {
        "Library · Stillcall".to_owned()
    }

    /// Returns what the screen listens to.
    pub(crate) fn subscription(&self) -> Subscription<Message> {
        self.arrived.listen().map(|()| Message::Told)
    }

    /// Does what a message asks for.
    pub(crate) fn update(&mut self, message: Message) -> Action {
        match message {
            Message::Typed(typed) => return self.typed(&typed),
            Message::KeyPressed(event) => return self.key_pressed(&event),
            Message::Asked(command) => return self.asked(command),
            Message::Turned(condition, others) => {
                let words = words::turned(self.query.text(), &condition, &others);
                self.query = Line::new(words);
                return Action::Run(self.search());
            }
            Message::Offered(name) => self.complete(&name),
            Message::SearchPressed(words) => {
                self.query = Line::new(words);
                return Action::Run(self.search());
            }
            Message::TilePressed(place) if self.chosen == Some(place) => return self.open_chosen(),
            Message::TilePressed(place) => self.chosen = Some(place),
            Message::Scrolled(viewport) => {
                self.scrolled = viewport.absolute_offset().y;
                return Action::Run(Task::batch([self.fetch(), self.draw_next()]));
            }
            Message::Found(search, page, found) => return self.take(search, page, *found),
            Message::Seen(search, place, seen) => {
                self.drawing = false;
                if search == self.search
                    && let Some(tile) = self.tile_mut(place)
                {
                    tile.look = Look::Seen(seen);
                }
                return Action::Run(self.draw_next());
            }
            Message::Known(Ok(known)) => self.known = known,
            Message::FolderChosen(folder) => return self.add(folder),
            Message::Added(Ok(())) => return Action::Run(self.look()),
            Message::Added(Err(why)) | Message::Done(Err(why)) | Message::SetMade(Err(why)) => {
                self.said = Some(why);
            }
            // What is wrong with the index is said by the search.
            Message::Told | Message::Known(Err(_)) => {}
            Message::Looked(looked) => {
                self.looking = None;
                // That it was broken is worth more than what was then found to be new.
                let is_said = self.said.as_deref() == Some(jobs::DAMAGED);
                match looked {
                    Ok(Some(_)) if is_said => {}
                    Ok(Some(said)) => self.said = Some(said),
                    Ok(None) => {}
                    Err(why) => {
                        // Searched again, a broken index would only be looked at again.
                        self.said = Some(why);
                        return Action::None;
                    }
                }
                let name = self.name();
                return Action::Run(Task::batch([self.search_again(), self.know(), name]));
            }
            Message::Named(named) => {
                self.looking = None;
                if let Err(why) = named {
                    self.said = Some(why);
                }
            }
            Message::Done(Ok(said)) => {
                self.said = Some(said);
                return Action::Run(self.look());
            }
            Message::SetMade(Ok((file, said))) => (self.set, self.said) = (Some(file), Some(said)),
            Message::Together(Ok(page)) => self.page = Some(page),
            Message::Together(Err(why)) => self.say_of_sheets(why),
            Message::Record(message) => return self.noted(message),
            Message::Erase(message) => return self.erase(message),
            Message::Hand(message) => return self.hand(message),
            Message::Take(message) => return self.take_in(message),
            Message::Judges(message) => return self.judge(message),
            Message::SetPressed(set) => return Action::OpenSet(set),
        }
        Action::None
    }

    pub(super) fn typed(&mut self, typed: &Typed) -> Action {
        if self.record.is_some() {
            return self.noted(RecordMessage::Typed(typed.clone()));
        }
        if self.erasing.is_some() {
            return self.typed_while_erasing(typed);
        }
        if self.handing.is_some() {
            return self.typed_while_handing(typed);
        }
        if self.taking.is_some() || self.judges.is_some() || self.page.is_some() {
            return Action::None;
        }
        if let Some(asking) = &mut self.asking {
            return Action::Run(asking.line.take(typed).task(Message::Typed));
        }
        (self.chosen, self.fault) = (None, None);
        Action::Run(self.query.take(typed).task(Message::Typed))
    }

    pub(super) fn key_pressed(&mut self, event: &keyboard::Event) -> Action {
        if self.record.is_some() {
            return self.noted(RecordMessage::KeyPressed(event.clone()));
        }
        if self.erasing.is_some() {
            return self.key_while_erasing(event);
        }
        if self.handing.is_some() {
            return self.key_while_handing(event);
        }
        if self.taking.is_some() {
            return self.key_while_taking(event);
        }
        if self.page.is_some() {
            return self.key_over_page(event);
        }
        if self.judges.is_some() {
            return self.key_among_judges(event);
        }
        match keymap::in_library(event) {
            // Arrows sideways move the cursor, and Delete a letter, while nothing is chosen.
            Some(LibraryCommand::Tile(_, 0) | LibraryCommand::Delete) if self.chosen.is_none() => {}
            Some(_) if self.asking.is_some() && !takes(event) => {}
            Some(command) => return self.asked(command),
            None => {}
        }
        typing::typed(event).map_or(Action::None, |typed| self.typed(&typed))
    }

    pub(super) fn asked(&mut self, command: LibraryCommand) -> Action {
        match command {
            LibraryCommand::GoOn if self.asking.is_some() => return self.answer(),
            LibraryCommand::GoOn if self.query.text().trim() != self.searched => {
                return Action::Run(self.search());
            }
            LibraryCommand::GoOn => return self.open_chosen(),
            LibraryCommand::Complete => {
                if let Some(name) = self.offers().first() {
                    self.complete(name);
                }
            }
            LibraryCommand::Tile(right, down) => return self.choose(right, down),
            LibraryCommand::AddFolder => return Action::Run(choose_folder()),
            LibraryCommand::LookAgain => return Action::Run(self.look()),
            LibraryCommand::SaveSearch => self.ask(What::Search),
            LibraryCommand::MakeSet => self.ask(What::Set),
            LibraryCommand::Assign => self.ask(What::Settings),
            LibraryCommand::Delete => return self.ask_to_delete(),
            LibraryCommand::Withdraw => return self.ask_who_withdraws(),
            LibraryCommand::Judges => return self.show_judges(),
            LibraryCommand::Record => return self.show_record(),
            LibraryCommand::HandOutChosen => return self.hand_out_chosen(),
            LibraryCommand::HandOutFound => return self.hand_out_found(),
            LibraryCommand::Attempts => return self.show_attempts(),
            LibraryCommand::TakeBundle => return Self::ask_which_bundle(),
            LibraryCommand::Leave if self.page.is_some() => self.page = None,
            LibraryCommand::Leave if self.asking.is_some() => self.asking = None,
            LibraryCommand::Leave => match &self.looking {
                Some(looking) => looking.stop(),
                None => return Action::Leave,
            },
        }
        Action::None
    }

    /// Returns what Tab does: it completes a word that is written.
    pub(crate) fn tab(&self) -> Tab {
        let completes = !self.is_covered() && self.asking.is_none() && !self.offers().is_empty();
        if completes { Tab::Taken } else { Tab::Everything }
    }

    /// Whether something lies over the wall.
    pub(super) fn is_covered(&self) -> bool {
        self.record.is_some()
            || self.erasing.is_some()
            || self.handing.is_some()
            || self.taking.is_some()
            || self.judges.is_some()
            || self.page.is_some()
    }

    pub(super) fn offers(&self) -> Vec<String> {
        words::offers(self.query.text(), &self.known)
    }

    pub(super) fn complete(&mut self, name: &str) {
        self.query = Line::new(words::completed(self.query.text(), name));
    }

    /// Searches for the words from the top.
    pub(super) fn search(&mut self) -> Task<Message> {
        self.query.text().trim().clone_into(&mut self.searched);
        (self.chosen, self.scrolled) = (None, 0.0);
        let top = scroll_to(Id::new(WALL), AbsoluteOffset { x: 0.0, y: 0.0 });
        Task::batch([top, self.search_again()])
    }

    /// Opens the chosen tile's clip.
    pub(super) fn open_chosen(&mut self) -> Action {
        let Some(tile) = self.chosen.and_then(|place| self.tile(place)) else {
            return Action::None;
        };
        let said = match &tile.hit.clip {
            Some(clip) if !tile.hit.away => {
                return Action::Open(clip.clone(), tile.hit.marks.clone());
            }
            Some(_) => "Its clip is out of reach; plug its disk in, then F5.",
            None => "Its clip is not there; plug its disk in, then F5.",
        };
        self.said = Some(said.to_owned());
        Action::None
    }

    /// Reads what may follow each word of a search.
    pub(super) fn know(&self) -> Task<Message> {
        let kept = self.kept.clone();
        aside(move || jobs::known(&kept), Message::Known)
    }

    /// Brings the index up to date, unless that is under way.
    pub(super) fn look(&mut self) -> Task<Message> {
        if self.looking.is_some() {
            return Task::none();
        }
        let looking = Looking::new(self.arrived.clone());
        self.looking = Some(looking.clone());
        let kept = self.kept.clone();
        aside(move || looking.run(&kept), Message::Looked)
    }

    /// Reads new clips whole, once it is known which there are.
    pub(super) fn name(&mut self) -> Task<Message> {
        let (looking, kept) = (Looking::new(self.arrived.clone()), self.kept.clone());
        self.looking = Some(looking.clone());
        aside(move || looking.name(&kept), Message::Named)
    }

    pub(super) fn add(&mut self, folder: Option<PathBuf>) -> Action {
        let Some(folder) = folder else { return Action::None };
        let kept = self.kept.clone();
        Action::Run(aside(move || jobs::add(&kept, &folder), Message::Added))
    }
}

fn choose_folder() -> Task<Message> {
    place::ask_folder("Take a folder of clips in", Message::FolderChosen)
}
