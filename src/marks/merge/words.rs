//! What is in a slot, in words.

use std::fmt;

use super::slot::{Slot, Thing};
use crate::marks::model::{At, Item, Reading, Seen, What};

impl fmt::Display for Slot {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Routine(key) => write!(f, "the routine's {key}"),
            Self::Fact(key) => write!(f, "the fact {key}"),
            Self::Turn => f.write_str("how the picture is turned"),
            Self::Plane(name) => write!(f, "plane {name}"),
            Self::Item(id) => write!(f, "{}", id.0),
            Self::Unfinished(id) => write!(f, "{} (not finished)", id.0),
            Self::Other(key) => write!(f, "{key} (of a later version)"),
        }
    }
}

impl fmt::Display for Thing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Item(item) => match &**item {
                Item::Mark(mark) => {
                    f.write_str(mark.what.name())?;
                    match &mark.what {
                        What::Element { element } => write!(f, " {element}")?,
                        What::Fault { fault, amount: Some(amount) } => {
                            write!(f, " {fault} {amount}")?;
                        }
                        What::Fault { fault, .. } => write!(f, " {fault}")?,
                        _ => {}
                    }
                    write!(f, "{}", At::in_words(&mark.at))?;
                    if mark.seen != Seen::Yes {
                        write!(f, ", {}", mark.seen.words())?;
                    }
                    if mark.note.is_empty() { Ok(()) } else { write!(f, ", \"{}\"", mark.note) }
                }
                Item::Reading(reading) => read(f, reading),
                Item::Call(call) => {
                    let answer = serde_json::to_value(call.answer).unwrap_or_default();
                    let answer = answer.as_str().unwrap_or_default().replace('_', " ");
                    write!(f, "call {} {answer}{}", call.asks, At::in_words(&call.at))
                }
            },
            Self::Unfinished(reading) => read(f, reading),
            Self::Plane(plane) => {
                write!(f, "plane {} of {} points", plane.name, plane.points.len())
            }
            Self::Value(serde_json::Value::String(text)) => f.write_str(text),
            Self::Value(value) => write!(f, "{value}"),
        }
    }
}

fn read(f: &mut fmt::Formatter<'_>, reading: &Reading) -> fmt::Result {
    let (quantity, value) = (reading.quantity.words(), reading.value.0);
    write!(f, "{quantity} {value:.1}{}", At::in_words(&reading.at))
}

impl At {
    fn in_words(&self) -> String {
        match self {
            Self::Frame(frame) => format!(" at frame {}", frame.index.0),
            Self::Span(from, to) => format!(" from frame {} to {}", from.index.0, to.index.0),
            Self::Place(place) => format!(" in place {}", place + 1),
        }
    }
}
