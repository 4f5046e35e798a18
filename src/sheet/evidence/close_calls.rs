//! Open calls that change the score, named for the headline.

use crate::{
    marks::{Contact, Id, What},
    sheet::{
        model::CloseCall,
        routine::{
            scene::Scene,
            world::{Fact, Question},
        },
    },
};

use super::decisions::read;

/// Returns the name and the frames of an open question.
pub(crate) fn close_call(scene: &Scene<'_>, question: &Question) -> CloseCall {
    let call = |act: usize, asked: String, said: String| {
        let mark = scene.acts[act].mark;
        let label = format!("{}: {asked}", scene.name_of(act));
        CloseCall { label, mark: Some(mark.id), frames: scene.frames.at(&mark.at), reason: said }
    };
    match question.options[question.taken] {
        Fact::Value(act, quantity, _) => {
            let performed = &scene.acts[act];
            let asked = performed.angles.iter().filter(|rule| rule.quantity == quantity);
            let labels: Vec<&str> = asked.map(|rule| rule.label.as_str()).collect();
            let said = performed.readings.get(&quantity).map(|reading| read(reading));
            call(act, labels.join(", "), format!("{}.", said.unwrap_or_default()))
        }
        Fact::Called(act, rule, _) => {
            let rule = scene.acts[act].angles[rule];
            let is_called = scene.acts[act].calls.contains_key(rule.id.as_str());
            let said = if is_called {
                "What was called leaves it open."
            } else {
                "It is still to be decided."
            };
            call(act, rule.label.clone(), said.to_owned())
        }
        Fact::Manner(id, _) => of_mark(scene, id, "Brush or support"),
        Fact::Stands(id, _) => of_mark(scene, id, "Seen or not"),
        Fact::Vault(_) => CloseCall {
            label: "Which vault it was".to_owned(),
            mark: None,
            frames: scene.frames.span(),
            reason: "Not everything that tells is marked.".to_owned(),
        },
    }
}

fn of_mark(scene: &Scene<'_>, id: Id, asked: &str) -> CloseCall {
    let mark = scene.sheaf.mark(id);
    let what = mark.map_or_else(String::new, |mark| in_words(scene, &mark.what));
    CloseCall {
        label: format!("{asked}: {what}"),
        mark: Some(id),
        frames: mark.map(|mark| scene.frames.at(&mark.at)).unwrap_or_default(),
        reason: "The picture leaves it open.".to_owned(),
    }
}

fn in_words(scene: &Scene<'_>, what: &What) -> String {
    let article = match what {
        What::Element { element } => {
            let known = scene.book.element(scene.event, element);
            return known.map_or(element.clone(), |element| element.name.clone());
        }
        What::Fault { fault, .. } => {
            let known = scene.book.faults.iter().find(|known| known.id == *fault);
            return known.map_or(fault.clone(), |fault| fault.label.clone());
        }
        What::Contact(Contact { part, .. }) => {
            return format!("the {part:?}").to_lowercase();
        }
        What::HandContact { .. }
        | What::HandRelease
        | What::HeelLift
        | What::HeelDrop
        | What::Landing { .. } => "the",
        What::Swing | What::Fall | What::Spot | What::Stop | What::Note => "a",
    };
    format!("{article} {}", what.name())
}
