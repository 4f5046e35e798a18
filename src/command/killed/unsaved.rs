//! A step that is in the journal alone, its command having failed to save, is saved by the same
//! command later, although it has nothing more to change.

use stillcall::marks::{Desk, Edit, StateFolder, Step, load};

use super::{rows::ROWS, started, succeeds, tree::Tree};
use crate::command::{killed::rows, leaving::Club};

const MARKS: &str = "clips/a.mp4.floor.J-1.marks.json";

#[test]
fn what_an_earlier_command_could_not_save_is_saved_by_the_next() {
    for name in ["result", "attach", "aside", "library assign"] {
        let row = ROWS.iter().find(|row| super::is_of(row, name)).unwrap();
        let club = Club::of_files();
        let (marks, state) = (club.path(MARKS), StateFolder::at(club.path("state")));
        for step in row.before {
            match step {
                rows::Step::Run(command) => succeeds(started(&club, command, ""), command),
                rows::Step::Do(what) => what(&club),
            }
        }
        let before = Tree::of(&club);
        succeeds(started(&club, row.run, ""), row.run);
        let wanted = load(&marks, None).unwrap();
        before.put_back(&club);
        let mut desk = Desk::open(&marks, &state).unwrap();
        let edit =
            Edit::Copy { before: Box::new(desk.sheaf().clone()), after: Box::new(wanted.clone()) };
        assert!(desk.take(Step::Do(edit)).unwrap(), "{name} changes nothing");
        drop(desk);
        assert_ne!(load(&marks, None).unwrap(), wanted, "{name}: it is saved already");
        succeeds(started(&club, row.run, ""), row.run);
        assert_eq!(load(&marks, None).unwrap(), wanted, "{name}");
    }
}
