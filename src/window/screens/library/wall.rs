//! Which tiles are in sight, fetched and drawn.

use iced::{
    Task,
    widget::{
        Id,
        operation::{AbsoluteOffset, scroll_to},
    },
};

use crate::window::typing::{Reach, Selecting, Typed};

use super::{
    jobs::{self, Failed, FoundPage, PAGE},
    message::{Action, Message},
    room::Room,
    screen::{Library, WALL},
    tile::{self, Look, Seen, Tile},
};

impl Library {
    pub(crate) fn tile(&self, place: u32) -> Option<&Tile> {
        self.pages.get(&(place / PAGE))?.get((place % PAGE) as usize)
    }

    pub(crate) fn tile_mut(&mut self, place: u32) -> Option<&mut Tile> {
        self.pages.get_mut(&(place / PAGE))?.get_mut((place % PAGE) as usize)
    }

    /// Returns the first place in sight and the first one below.
    pub(crate) fn in_sight(&self) -> [u32; 2] {
        let Room { columns, height, row } = self.room.get();
        let first = (self.scrolled / row).floor() as u32;
        let last = ((self.scrolled + height) / row).ceil() as u32;
        [first * columns, last * columns]
    }

    /// Searches for the same words once more and stays in place.
    pub(crate) fn search_again(&mut self) -> Task<Message> {
        self.search += 1;
        self.fetching.clear();
        self.fetch_page(self.in_sight()[0] / PAGE)
    }

    /// Takes in what was found.
    pub(crate) fn take(
        &mut self,
        search: u64,
        page: u32,
        found: Result<FoundPage, Failed>,
    ) -> Action {
        if search != self.search {
            return Action::None;
        }
        self.fetching.remove(&page);
        // Only now, so that never two at once make a broken index anew.
        let is_first = !std::mem::replace(&mut self.begun, true);
        let look = if is_first { self.look() } else { Task::none() };
        match found {
            Ok(mut found) => {
                let know = if is_first { self.know() } else { Task::none() };
                let tiles = std::mem::take(&mut found.tiles);
                if self.tiles_of != search {
                    self.keep_looks(&tiles);
                    self.tiles_of = search;
                }
                (self.fault, self.chosen) = (None, self.chosen.filter(|it| *it < found.all));
                self.pages.insert(page, tiles);
                self.found = Some(found);
                return Action::Run(Task::batch([self.fetch(), self.draw_next(), know, look]));
            }
            Err(Failed::Query(why, at)) => {
                self.fault = Some(why);
                // The cursor stands where it went wrong.
                let to = Reach::Place(at);
                self.query.take(&Typed::Move { to, select: Selecting::No });
            }
            Err(Failed::Damaged) => {
                self.said = Some(jobs::DAMAGED.to_owned());
                return Action::Run(Task::batch([look, self.look()]));
            }
            Err(Failed::Other(why)) => self.said = Some(why),
        }
        Action::Run(look)
    }

    /// Lets go of the tiles of an older search. What was seen of a clip is shown until it has been
    /// looked at again.
    fn keep_looks(&mut self, tiles: &[Tile]) {
        let old = std::mem::take(&mut self.pages).into_values().flatten();
        self.seen = old
            .filter_map(|tile| match (tile.hit.clip, tile.look) {
                (Some(clip), Look::Seen(seen)) => Some((clip, seen)),
                _ => None,
            })
            .collect();
        self.seen.retain(|clip, _| tiles.iter().any(|tile| tile.hit.clip.as_ref() == Some(clip)));
    }

    /// Returns what was seen of a clip, now or before.
    pub(crate) fn seen<'a>(&'a self, tile: &'a Tile) -> Option<&'a Seen> {
        match &tile.look {
            Look::Seen(seen) => Some(seen),
            Look::Not | Look::Now => self.seen.get(tile.hit.clip.as_ref()?),
        }
    }

    /// Fetches the pages in sight that are not there yet.
    pub(crate) fn fetch(&mut self) -> Task<Message> {
        let all = self.found.as_ref().map_or(0, |found| found.all);
        let [from, to] = self.in_sight();
        let pages = from / PAGE..=to.min(all.saturating_sub(1)) / PAGE;
        let missing: Vec<u32> = pages
            .filter(|page| page * PAGE < all)
            .filter(|page| !self.pages.contains_key(page) && !self.fetching.contains(page))
            .collect();
        Task::batch(missing.into_iter().map(|page| self.fetch_page(page)))
    }

    pub(crate) fn fetch_page(&mut self, page: u32) -> Task<Message> {
        self.fetching.insert(page);
        let (search, words, kept) = (self.search, self.searched.clone(), self.kept.clone());
        let finding = tokio::task::spawn_blocking(move || jobs::find(&kept, &words, page));
        Task::perform(finding, move |found| {
            let found = found.unwrap_or_else(|error| Err(Failed::Other(error.to_string())));
            Message::Found(search, page, Box::new(found))
        })
    }

    /// Looks at the next clip in sight, one at a time: somebody may want to open one.
    pub(crate) fn draw_next(&mut self) -> Task<Message> {
        if self.drawing {
            return Task::none();
        }
        let [from, to] = self.in_sight();
        let search = self.search;
        let is_wanted =
            |place: &u32| self.tile(*place).is_some_and(|tile| matches!(tile.look, Look::Not));
        let Some(place) = (from..to).find(is_wanted) else { return Task::none() };
        let Some(tile) = self.tile_mut(place) else { return Task::none() };
        tile.look = Look::Now;
        let Some(clip) = tile.hit.clip.clone() else { return Task::none() };
        self.drawing = true;
        let (kept, apart) = (self.kept.clone(), self.apart.clone());
        let look = move || tile::look(&clip, kept.as_ref(), &apart);
        let drawing = tokio::task::spawn_blocking(look);
        Task::perform(drawing, move |seen| Message::Seen(search, place, seen.unwrap_or_default()))
    }

    /// Chooses another tile, and brings it into sight.
    pub(crate) fn choose(&mut self, right: i8, down: i8) -> Action {
        let all = self.found.as_ref().map_or(0, |found| found.all);
        let Room { columns, height, row } = self.room.get();
        if all == 0 {
            return Action::None;
        }
        let by = i64::from(right) + i64::from(down) * i64::from(columns);
        let place = match self.chosen {
            None => 0,
            // Above the first row are the words again.
            Some(place) if i64::from(place) + by < 0 => {
                self.chosen = None;
                return Action::None;
            }
            Some(place) => (i64::from(place) + by).min(i64::from(all) - 1) as u32,
        };
        self.chosen = Some(place);
        let top = (place / columns) as f32 * row;
        let low = (top + row - height).max(0.0);
        let offset = self.scrolled.clamp(low.min(top), top);
        if offset == self.scrolled {
            return Action::None;
        }
        self.scrolled = offset;
        let scroll = scroll_to(Id::new(WALL), AbsoluteOffset { x: 0.0, y: offset });
        Action::Run(Task::batch([scroll, self.fetch(), self.draw_next()]))
    }
}
