//! Where lines of the world lie in the picture: what a drawing of a measurement needs.

use std::cmp::Ordering;

use super::{
    MeasureInput, Quantity, Refusal,
    angle::{length, wrap},
    input::Rotation,
    measuring::{
        ground::{Variation, Way},
        model::Model,
    },
    shape::AngleShape,
};
use crate::units::{Magnitude, OnPlane, Shown};

/// One measurement seen in its picture.
#[derive(Clone, Debug)]
pub struct Sight {
    quantity: Quantity,
    shape: AngleShape,
    names: Vec<String>,
    way: Way,
    /// Points of every look, clicked and in the world.
    looks: Vec<Look>,
    towards: f64,
    rotation: f64,
}

#[derive(Clone, Debug)]
struct Look {
    clicked: Vec<Shown>,
    places: Vec<OnPlane>,
    /// In degrees, where it is an angle.
    value: f64,
}

/// A line that is compared, and whether it is the one that counts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ComparedLine {
    /// Both ends in the picture.
    pub ends: [Shown; 2],
    /// Whether the value is that of this line.
    pub counts: bool,
}

impl Sight {
    /// Returns the measurement in its picture, or why there is none to draw.
    pub fn of(input: &MeasureInput) -> Result<Self, Refusal> {
        let model = Model::however_short(input)?;
        let x = model.best();
        let none = || Refusal::NoAngle { detail: "they lie on top of each other" };
        let way = model.ground.way(&x, Variation::NONE).ok_or_else(none)?;
        let looks = (0..input.looks.len()).map(|look| {
            let clicked = model.clicked(&x, look);
            let places = model.places(&way, &x, look)?;
            Some(Look { clicked, places, value: model.angle_of(&x, look)? })
        });
        let looks: Option<Vec<Look>> = looks.collect();
        Ok(Self {
            quantity: input.quantity,
            shape: model.shape.clone(),
            names: model.names.clone(),
            way,
            looks: looks.ok_or_else(none)?,
            towards: model.towards,
            rotation: if input.facts.rotation == Rotation::Left { 1.0 } else { -1.0 },
        })
    }

    /// Returns the value of the first frame alone, as it is shown.
    pub fn value(&self) -> Option<Magnitude> {
        let value = self.looks.first()?.value;
        Some(Magnitude(if self.quantity.is_size() { value.abs() } else { value }))
    }

    /// Returns the lines of the body on one of the frames.
    pub fn compared(&self, look: usize) -> Vec<ComparedLine> {
        let Some(look) = self.looks.get(look) else { return Vec::new() };
        let end = self.end_that_counts(look);
        let clicked = |place: usize| look.clicked[place];
        if let AngleShape::Lean { from, to } = &self.shape {
            let ends = [from, to].map(|of| Shown::mean(of.iter().map(|place| clicked(*place))));
            return vec![ComparedLine { ends, counts: true }];
        }
        if let AngleShape::Beside { line, point } = self.shape {
            let own = ComparedLine { ends: line.map(clicked), counts: false };
            let foot = foot(look.places[point], line.map(|end| look.places[end]));
            let across = self.way.seen(foot).map(|foot| [foot, clicked(point)]);
            return [Some(own), across.map(|ends| ComparedLine { ends, counts: true })]
                .into_iter()
                .flatten()
                .collect();
        }
        if let AngleShape::Ratio { of, over } = self.shape {
            let line = |ends: [usize; 2], counts| ComparedLine { ends: ends.map(clicked), counts };
            return vec![line(over, false), line(of, true)];
        }
        self.shape
            .lines()
            .into_iter()
            .map(|[a, b]| ComparedLine {
                ends: [clicked(a), clicked(b)],
                counts: end.is_none_or(|end| end == b),
            })
            .collect()
    }

    /// Returns the name of the part that counts, where several were compared.
    pub fn part_that_counts(&self) -> Option<&str> {
        let end = self.end_that_counts(self.looks.first()?)?;
        self.names.get(end).map(String::as_str)
    }

    /// Returns the arc from where the angle is counted from to the line that counts, as points
    /// of the picture; of a turn, on the frame of its drop.
    pub fn arc(&self, look: usize) -> Vec<Shown> {
        let Some(angle) = self.angle(look) else { return Vec::new() };
        self.sweep(&angle, angle.from, angle.to)
    }

    /// Returns the line that makes exactly this angle, as it would look in the plane of the
    /// movement from this camera; for a split both legs, for lengths none.
    pub fn asked(&self, look: usize, degrees: Magnitude) -> Vec<[Shown; 2]> {
        let Some(angle) = self.angle(look) else { return Vec::new() };
        let directions = match self.shape {
            AngleShape::Opening { .. } => {
                let half = degrees.0 / 2.0;
                vec![angle.from - angle.sign * half, angle.from + angle.sign * half]
            }
            _ => vec![angle.from + angle.sign * degrees.0],
        };
        let vertex = angle.vertex;
        let line =
            |direction: f64| Some([self.way.seen(vertex)?, self.ray(&angle, direction, 1.1)?]);
        directions.into_iter().filter_map(line).collect()
    }

    /// Returns the directions of the surface itself through what goes round on it, each a line of
    /// 1.2 m: against them a person can say past, not past or can't tell where a foot is too short
    /// to be measured. Nothing for what does not go round.
    pub fn landmarks(&self, look: usize) -> Vec<[Shown; 2]> {
        if !matches!(self.shape, AngleShape::Heading { .. } | AngleShape::Facing { .. }) {
            return Vec::new();
        }
        let Some(Angle { vertex, .. }) = self.angle(look) else { return Vec::new() };
        let line = |[dx, dy]: [f64; 2]| {
            Some([self.way.seen(vertex + [-dx, -dy])?, self.way.seen(vertex + [dx, dy])?])
        };
        [[LANDMARK, 0.0], [0.0, LANDMARK]].into_iter().filter_map(line).collect()
    }

    /// Returns where the value is written: beside the arc, or the line that counts.
    pub fn beside(&self, look: usize) -> Option<Shown> {
        let arc = self.arc(look);
        arc.get(arc.len() / 2).copied().or_else(|| {
            let counts = self.compared(look).into_iter().find(|line| line.counts)?;
            Some(Shown::mean(counts.ends))
        })
    }

    fn end_that_counts(&self, look: &Look) -> Option<usize> {
        let compared = self.shape.compared(&look.places);
        let best = match self.shape {
            AngleShape::Furthest { .. } => {
                compared.iter().max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))
            }
            _ => compared.iter().min_by(|a, b| a.1.total_cmp(&b.1)),
        };
        best.map(|(end, _)| *end)
    }

    /// Where the angle lies in the world: directions in degrees from the x axis towards y.
    fn angle(&self, look: usize) -> Option<Angle> {
        let first = self.looks.first()?;
        let at = self.looks.get(look)?;
        let places = &at.places;
        let middle = |of: &[usize]| OnPlane::mean(of.iter().map(|at| places[*at]));
        let towards = |from: OnPlane, to: OnPlane| {
            let [x, y] = to - from;
            (y.atan2(x).to_degrees(), length([x, y]))
        };
        Some(match &self.shape {
            AngleShape::Lowest { from, .. } => {
                let (to, radius) = towards(places[*from], places[self.end_that_counts(at)?]);
                let left = to.abs() > 90.0;
                let from_level = if left { 180.0 } else { 0.0 };
                let sign = if left { -1.0 } else { 1.0 };
                let to = from_level + sign * at.value;
                Angle { vertex: places[*from], radius, from: from_level, to, sign }
            }
            AngleShape::Furthest { from, .. } => {
                let (to, radius) = towards(places[*from], places[self.end_that_counts(at)?]);
                let plumb = if to < 0.0 { -90.0 } else { 90.0 };
                let off = wrap(to - plumb);
                Angle {
                    vertex: places[*from],
                    radius,
                    from: plumb,
                    to: plumb + off,
                    sign: off.signum(),
                }
            }
            AngleShape::Lean { from, to } => {
                let vertex = middle(from);
                let (_, radius) = towards(vertex, middle(to));
                let sign = -self.towards;
                Angle { vertex, radius, from: 90.0, to: 90.0 + sign * at.value, sign }
            }
            AngleShape::Raise { from, to } => {
                let (to, radius) = towards(places[*from], places[*to]);
                let up = wrap(to + 90.0);
                Angle {
                    vertex: places[*from],
                    radius,
                    from: -90.0,
                    to: -90.0 + up,
                    sign: up.signum(),
                }
            }
            AngleShape::Bend { through: [near, joint, far] } => {
                let (from, _) = towards(places[*near], places[*joint]);
                let (_, radius) = towards(places[*joint], places[*far]);
                let sign = at.value.signum();
                Angle { vertex: places[*joint], radius, from, to: from + at.value, sign }
            }
            AngleShape::Facing { left, right } => {
                let vertex = middle(&[*left, *right]);
                let (_, radius) = towards(places[*right], places[*left]);
                let from = if self.towards < 0.0 { 180.0 } else { 0.0 };
                Angle { vertex, radius, from, to: from + at.value, sign: at.value.signum() }
            }
            AngleShape::Opening { legs, .. } => {
                let vertex = middle(&[legs[0][0], legs[1][0]]);
                let [a, b] = legs.map(|[hip, end]| towards(places[hip], places[end]));
                // Counted from the middle of the opening; about 180 degrees the lower side is it.
                let half = at.value / 2.0;
                let near = a.0 + wrap(b.0 - a.0) / 2.0;
                let off = |bisector: f64| {
                    let miss = (wrap(b.0 - bisector).abs() - half).abs();
                    (miss.round() as i64, bisector.to_radians().sin())
                };
                let sides = [near, near + 180.0];
                let swapped = off(sides[0]).partial_cmp(&off(sides[1])) == Some(Ordering::Greater);
                let bisector = sides[usize::from(swapped)];
                let radius = a.1.min(b.1);
                Angle { vertex, radius, from: bisector, to: bisector + half, sign: 1.0 }
            }
            AngleShape::Heading { from, to } => {
                let (heading, radius) = towards(places[*from], places[*to]);
                let before = first.value;
                let sign = self.rotation;
                let turned = (sign * (heading - before)).rem_euclid(360.0);
                let vertex = places[*from];
                Angle {
                    vertex,
                    radius: 2.0 * radius,
                    from: before,
                    to: before + sign * turned,
                    sign,
                }
            }
            AngleShape::Distance { .. } | AngleShape::Beside { .. } | AngleShape::Ratio { .. } => {
                return None;
            }
        })
    }

    fn sweep(&self, angle: &Angle, from: f64, to: f64) -> Vec<Shown> {
        let from = match self.shape {
            AngleShape::Opening { .. } => 2.0 * from - to,
            _ => from,
        };
        let steps = ((to - from).abs() / ARC_STEP).ceil().max(1.0) as usize;
        let direction = |step: usize| from + (to - from) * step as f64 / steps as f64;
        (0..=steps).filter_map(|step| self.ray(angle, direction(step), ARC)).collect()
    }

    /// The end, in the picture, of a line of a share of the radius from the vertex.
    fn ray(&self, angle: &Angle, direction: f64, share: f64) -> Option<Shown> {
        let (sin, cos) = direction.to_radians().sin_cos();
        let r = angle.radius * share;
        self.way.seen(angle.vertex + [r * cos, r * sin])
    }
}

/// Returns the place on a line that is nearest to a point.
fn foot(point: OnPlane, [a, b]: [OnPlane; 2]) -> OnPlane {
    let [along, off] = [b - a, point - a];
    let share = (along[0] * off[0] + along[1] * off[1]) / length(along).powi(2);
    a + along.map(|part| share * part)
}

/// An arc lies at this share of the line's length.
const ARC: f64 = 0.45;
/// Half the length of a landmark, in metres.
const LANDMARK: f64 = 0.6;
/// An arc is drawn in steps of at most so many degrees.
const ARC_STEP: f64 = 3.0;

struct Angle {
    vertex: OnPlane,
    radius: f64,
    from: f64,
    to: f64,
    /// Sense in which the angle grows.
    sign: f64,
}
