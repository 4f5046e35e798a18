//! What is drawn over the picture: angles that were measured, and the points being placed.

use crate::{
    figure::{self, Caption, Ink, Shape, ShapeForm},
    marks::{
        Reading, Sheaf,
        placing::{self, PointAsked},
    },
    units::{FrameRef, Shown},
    window::{
        placing::{Measuring, Placing, Planing, Sight, What},
        screens::clip::Clip,
        viewer::overlay::Overlay,
    },
};

impl Clip {
    /// Returns what is drawn over the picture.
    pub(crate) fn overlay(&self) -> Overlay {
        let picture = self.room().picture;
        let shapes = if self.viewer.plays() { Vec::new() } else { self.shapes() };
        Overlay { shapes, viewport: self.viewer.viewport(), picture, cross: None }
    }

    /// Returns the places that the pointer may take hold of; nothing unless points are placed.
    pub(crate) fn handles(&self) -> Option<Vec<Shown>> {
        let placing = self.mode.placing()?;
        Some(placing.in_sight(&self.sight()).into_iter().map(|(_, at)| at).collect())
    }

    fn shapes(&self) -> Vec<Shape> {
        let Some(sheaf) = self.session.sheaf() else { return Vec::new() };
        let sight = self.sight();
        match self.mode.placing().map(|placing| (placing, placing.what())) {
            Some((placing, What::Plane(_))) => {
                Planing::shapes(&placing.in_sight(&sight), placing.moves(&sight))
            }
            Some((placing, What::Angle(angle))) => self.own_shapes(sheaf, placing, angle),
            None => {
                let on_frame = |it: &&Reading| {
                    !it.points.is_empty() && !placing::on_frame(it, &sight.frame).is_empty()
                };
                let kept = sheaf.readings.iter().filter(on_frame);
                kept.flat_map(|it| self.kept_shapes(sheaf, it, &sight.frame)).collect()
            }
        }
    }

    fn kept_shapes(&self, sheaf: &Sheaf, reading: &Reading, frame: &FrameRef) -> Vec<Shape> {
        let rules = self.session.rules_for(reading.of, reading.quantity);
        let limit = rules.first().map(|rule| rule.limit);
        let said = figure::caption(reading, limit, self.shows_asked);
        figure::kept(sheaf, reading, frame, &said)
    }

    fn own_shapes(&self, sheaf: &Sheaf, placing: &Placing, own: &Measuring) -> Vec<Shape> {
        let sight = self.sight();
        let Sight { frame, upright } = &sight;
        let (in_sight, moves) = (placing.in_sight(&sight), placing.moves(&sight));
        let mut shapes = Vec::new();
        // The drawing would lead whoever places the points again.
        if !matches!(own.ask(frame), PointAsked::Point(_)) && !placing.is_held() {
            let said = Caption {
                verdict: own.verdict(),
                asked: own.asked().filter(|_| self.shows_asked),
                value: String::new(),
            };
            shapes.extend(figure::kept(sheaf, &own.reading, frame, &said));
        }
        shapes.retain(|shape| !matches!(shape, Shape::Dot { .. }));
        shapes.extend(in_sight.into_iter().map(|(place, at)| Shape::Dot {
            at,
            ink: Ink::Body,
            form: if moves == Some(place) { ShapeForm::Chosen } else { ShapeForm::Ring },
        }));
        let how = &own.reading.how;
        let lines = [how.line, how.level].into_iter().flatten().flatten();
        let line = lines.chain(own.aids.line);
        shapes.extend(line.map(|coded| Shape::Dot {
            at: upright.to_shown(coded),
            ink: Ink::World,
            form: ShapeForm::Square,
        }));
        shapes
    }
}
