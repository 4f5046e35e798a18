//! Routines as a line of words, the guide's way: `floor low: split-leap, split 120, fall`.

use stillcall::{
    marks::{At, Facing::Away, LandingOn, Quantity, Sheaf, What},
    rulebook::Book,
};

use super::{
    ask::points,
    write::{Writer, at, write},
};

/// Returns the routine that the line tells: its event and division, a colon, and what was marked in its
/// order.
pub(crate) fn routine_of(book: &Book, line: &str) -> Sheaf {
    let (place, marked) = line.split_once(": ").unwrap();
    let (event, division) = place.split_once(' ').unwrap();
    let items = marked.split(", ");
    items.fold(write(event, division), |writer, item| mark(book, writer, item)).done()
}

/// Marks one thing.
pub(crate) fn mark(book: &Book, mut writer: Writer, item: &str) -> Writer {
    if let Some((times, what)) = item.split_once(" × ") {
        let times: usize = times.parse().unwrap();
        return (0..times).fold(writer, |writer, _| mark(book, writer, what));
    }
    if let Some((name, value)) = item.split_once(" = ") {
        writer.sheaf.routine.facts.insert(name.into(), value.into());
        return writer;
    }
    if let Some((what, seconds)) = item.split_once(" for ") {
        let mut writer = mark(book, writer, what);
        let last = writer.sheaf.marks.last_mut().unwrap();
        let from = last.at.frame().unwrap().ticks.0;
        last.at = At::Span(at(from), at(from + ticks(seconds)));
        return writer;
    }
    let (word, value) = item.split_once(' ').unwrap_or((item, ""));
    let event = writer.sheaf.routine.event.clone();
    let quantity = serde_json::from_value::<Quantity>(word.into());
    match word {
        "on" => writer.sheaf.routine.date = value.into(),
        "lasts" => writer.sheaf.routine.span = Some([at(0), at(ticks(value))]),
        "hands" => return writer.hands(value.parse().unwrap()),
        "lands" => return writer.lands(landed(value), Away, 0),
        "perhaps" => return writer.maybe(What::Fall),
        "fall" => return writer.seen(What::Fall),
        "spot" => return writer.seen(What::Spot),
        "stop" => return writer.seen(What::Stop),
        "swing" => return writer.seen(What::Swing),
        "off" => return writer.seen(What::HandRelease),
        "heel-drop" => return writer.seen(What::HeelDrop),
        id if book.element(&event, id).is_some() => return writer.does(&[id]),
        _ if quantity.is_ok() => {
            return writer.reads(quantity.unwrap(), value.parse().unwrap(), 0.0);
        }
        id => return writer.fault(id, Some(value).filter(|value| !value.is_empty())),
    }
    writer
}

/// Returns a time such as `1.9 s` in ticks of the clip, of which a second has 900.
fn ticks(seconds: &str) -> i64 {
    points(seconds.strip_suffix(" s").unwrap()).0 * 900 / 1000
}

fn landed(on: &str) -> LandingOn {
    match on {
        "feet" => LandingOn::Feet,
        "apparatus" => LandingOn::Apparatus,
        "body" => LandingOn::Body,
        other => panic!("{other}"),
    }
}
