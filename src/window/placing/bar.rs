//! The bar under the picture while points are placed: what to click, and what it comes to.

use iced::{
    Alignment, Element, Length,
    widget::{column, row, space},
};

use crate::{
    figure::Ink,
    geometry::{
        HALF_WIDTH, Lies, Measured,
        input::{CameraHeight, USUAL_JOINT_DEPTH},
    },
    marks::placing::{self, Dial, PointAsked},
    units::{FrameRef, Magnitude, Unit},
    window::{
        controls::button,
        keymap::{AngleCommand, ClipCommand, PointCommand, Steady},
        theme::{self, Current, size, text},
        viewer::ink,
    },
};

use super::measuring::Measuring;

/// Draws the bar; `on` makes a message of what a button stands for.
pub(crate) fn view<'a, M: Clone + 'a>(
    measuring: &'a Measuring,
    frame: &FrameRef,
    on: impl Fn(ClipCommand) -> M + Copy + 'a,
) -> Element<'a, M> {
    let ask = measuring.ask(frame);
    let prompt = text(prompt(measuring, &ask, frame)).size(size::LEAD).font(theme::STRONG);
    let head = row![prompt, space().width(Length::Fill), value(measuring)]
        .spacing(theme::space::MIDDLE)
        .align_y(Alignment::Center);
    let quiet =
        |said: String| text(said).size(size::SMALL).style(theme::ink(theme::ON_STAGE_QUIET));
    // What is done stands right under what is asked: where there is little room, the rest goes.
    let note = note(measuring).map(|note| text(note).size(size::SMALL));
    column![head, buttons(on), quiet(about(measuring))]
        .push(note)
        .spacing(theme::space::HAIR)
        .into()
}

fn buttons<'a, M: Clone + 'a>(on: impl Fn(ClipCommand) -> M + Copy + 'a) -> Element<'a, M> {
    let one = |label: &'static str, command| {
        button(text(label).size(size::SMALL))
            .padding([theme::space::TIGHT, theme::space::SMALL])
            .style(theme::stage_button(Current::No))
            .on_press(on(command))
    };
    row![
        one("Back ⌫", ClipCommand::Points(PointCommand::TakeBack)),
        one("Not visible V", ClipCommand::Points(PointCommand::Skip)),
        one("All again R", ClipCommand::Points(PointCommand::Again)),
        one("Level L", ClipCommand::Points(PointCommand::Angle(AngleCommand::Line))),
        one("Plane W", ClipCommand::Points(PointCommand::Angle(AngleCommand::NextPlane))),
        one("Keep ⏎", ClipCommand::Points(PointCommand::Keep)),
        one("Leave Esc", ClipCommand::Steady(Steady::Leave)),
    ]
    .spacing(theme::space::HAIR)
    .wrap()
    .into()
}

/// What to do next, in plain words.
fn prompt(measuring: &Measuring, ask: &PointAsked, frame: &FrameRef) -> String {
    match ask {
        PointAsked::Point(name) => {
            let times = placing::times_placed(&measuring.reading, frame, name);
            let again = match times {
                0 => String::new(),
                1 => " once more, as if for the first time".to_owned(),
                _ => format!(" again, the {}. time", times + 1),
            };
            format!("Click the {name}{again}")
        }
        PointAsked::Line(first) => line_prompt(measuring, *first),
        PointAsked::GoTo(Some(goal)) => format!("Go to frame {} (, and . step)", goal.index),
        PointAsked::GoTo(None) => {
            "Step on (.) to the first frame on which a heel is down, and click the heel there"
                .to_owned()
        }
        PointAsked::Travel => "Which way does the athlete travel? ← or →".to_owned(),
        PointAsked::Rotation => "Which way does she turn? ← to her left, → to her right".to_owned(),
        PointAsked::About => {
            "About how far does she turn? 1 half a turn, 2 a whole one, 3 one and a half …"
                .to_owned()
        }
        PointAsked::Depth => {
            let metres = placing::dialled(&measuring.reading, Dial::Depth);
            let said = match metres {
                0.0 => "in the plane".to_owned(),
                0.0.. => format!("{metres:.1} m nearer to the camera"),
                _ => format!("{:.1} m further away", -metres),
            };
            format!("Where does it lie? {said} (← further, → nearer, ⏎ so)")
        }
        PointAsked::Distance => {
            let metres = placing::dialled(&measuring.reading, Dial::Distance);
            format!("How far does the camera stand from the plane? {metres:.1} m (← →, ⏎ so)")
        }
        PointAsked::Nothing => done(measuring),
    }
}

fn line_prompt(measuring: &Measuring, first: usize) -> String {
    let end = ["one end", "the other end"][first.min(1)];
    if measuring.aids.lies.is_some() {
        format!("Click {end} of the line of travel on the floor")
    } else if measuring.reading.how.line.is_some() {
        format!("Click {end} of the other: an upright, or an edge level along the movement")
    } else {
        format!("Click {end} of an upright, or of a level edge along the movement")
    }
}

fn done(measuring: &Measuring) -> String {
    match &measuring.live {
        Some(Ok(_)) if measuring.reading.quantity.is_read_at_its_peak() => {
            "Enter keeps it; the frames before and after (, .) tell the peak between".to_owned()
        }
        Some(Ok(_)) if placing::wants_next(&measuring.reading) => {
            "The hands leave before the next frame: . shows it, click the same points there (⏎ \
             keeps it without)"
                .to_owned()
        }
        Some(Ok(_)) if measuring.reading.quantity.goes_by() => {
            "Enter keeps it; on the move, the same points on the next frame (.) tell how fast"
                .to_owned()
        }
        Some(Ok(_)) => "Enter keeps it; R places every point again".to_owned(),
        Some(Err(_)) => "No value; Y N U says by eye what is asked".to_owned(),
        None => "Points are missing: Backspace, or step to their frame".to_owned(),
    }
}

/// Value, uncertainty and what they decide, by sign and word.
fn value<'a, M: 'a>(measuring: &'a Measuring) -> Element<'a, M> {
    let Some(Ok(measured)) = &measuring.live else { return space().into() };
    let ink = measuring.verdict().map_or(Ink::Counts, Ink::from);
    let mut line = row![
        text(said(measured, measuring.reading.quantity.unit()))
            .size(size::LEAD)
            .font(theme::STRONG)
            .style(theme::ink(ink::tint(ink)))
    ]
    .spacing(theme::space::SMALL)
    .align_y(Alignment::Center);
    for rule in &measuring.rules {
        let verdict = measured.decide(rule.limit);
        let says = format!("{} ({})", verdict.words(), rule.asks);
        line = line.push(text(says).style(theme::ink(ink::tint(verdict.into()))));
    }
    line.into()
}

/// Returns a value with half the width of its 95 % interval, as on the paper: `78.3° ± 2.4°`.
fn said(measured: &Measured, unit: Unit) -> String {
    unit.write_with(measured.value, Magnitude(measured.u.0 * HALF_WIDTH))
}

/// What a reader should know of the value: what counts, its interval, or why there is none.
fn note(measuring: &Measuring) -> Option<String> {
    match measuring.live.as_ref()? {
        Err(refusal) if refusal.is_unfinished() => None,
        Err(refusal) => Some(format!("No value: {refusal}.")),
        Ok(measured) => {
            let unit = measuring.reading.quantity.unit();
            let [low, high] = measured.interval.map(|end| unit.write(end));
            let mut said = measured.notes.clone();
            said.push(format!("95 % between {low} and {high}."));
            if let Some(residual) = measured.residual {
                said.push(format!("The plane's points miss by {residual:.1} px."));
            }
            if let Some(worst) = measured.budget.first() {
                let (cause, share) = (worst.cause.words(), unit.write(worst.u));
                said.push(format!("Most of it is {cause}, ± {share}."));
                said.push(format!("What would help most: {}.", worst.cause.help()));
            }
            Some(said.join(" "))
        }
    }
}

/// Whose angle it is, when it is read, and how the picture is tied to the world.
fn about(measuring: &Measuring) -> String {
    let reading = &measuring.reading;
    let when = measuring.rules.iter().map(|rule| rule.moment.as_str()).find(|it| !it.is_empty());
    let when = when.unwrap_or(reading.quantity.when());
    let how = &reading.how;
    let world = match (&how.plane, how.line, reading.quantity) {
        (Some(name), _, quantity) if quantity.lies() == Some(Lies::Upright) => {
            let depth = how.joint_depth.unwrap_or(USUAL_JOINT_DEPTH) * 100.0;
            let side = how.side.unwrap_or_default().words();
            let since = measuring.since.words();
            format!(
                "in the plane “{name}”{since}, {side} clicked, joints off it by ± {depth:.0} cm \
                 (Shift O)"
            )
        }
        (Some(name), ..) => format!("in the plane “{name}”{}", measuring.since.words()),
        (None, _, quantity) if quantity.needs_a_plane() => {
            "no plane: click one of known size first (Shift W)".to_owned()
        }
        (None, line, _) => {
            let level = match (line, how.level) {
                (Some(_), Some(_)) => "levelled both ways",
                (Some(_), None) => "levelled by one line (L adds the other)",
                (None, _) => "not levelled (L)",
            };
            let off = how.off_square.unwrap_or(crate::marks::USUAL_OFF_SQUARE);
            let height = how.height.map_or("camera height not said", CameraHeight::words);
            format!("{level} · within {off} of side-on (O), {height} (Shift O)")
        }
    };
    let clicks = match (how.click, how.click_freedom) {
        (Some(s), Some(freedom)) if how.click_of_several => format!(
            " · people's clicks lie {s:.1} px apart, from {:.0} (Shift R forgets)",
            freedom / 2.0
        ),
        (Some(s), Some(freedom)) => {
            format!(" · your clicks: {s:.1} px from {:.0} repeats (Shift R forgets)", freedom / 2.0)
        }
        (Some(s), None) => format!(" · clicks of {s:.1} px, as said"),
        (None, _) => String::new(),
    };
    format!("{} of {}, {when} · {world}{clicks}", capital(reading.quantity.words()), measuring.of)
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
