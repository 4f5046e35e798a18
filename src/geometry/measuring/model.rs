//! One measurement as a function of everything that was clicked for it.

use std::ops::Range;

use super::{
    depth::Correction,
    ground::{Ground, Variation, Way},
    joints::Joints,
    measured::ErrorSource,
};
use crate::{
    geometry::{
        Lies, Quantity, Refusal,
        angle::wrap,
        error::{
            moment,
            placing::{self, Spread},
            propagate::Input,
        },
        input::{ClickedFrame, MeasureInput, Plane, Rotation, Travel, View},
        plane::fixed::{Fixed, GRAZING, SLIVER, WRONG_POINT},
        shape::AngleShape,
    },
    units::{OnPlane, Shown},
};

/// The function, its inputs and what was found out on the way.
#[derive(Clone, Debug)]
pub(crate) struct Model {
    /// Every number that was clicked or stated, with its uncertainty.
    pub inputs: Vec<Input<ErrorSource>>,
    /// The way from the picture to the world.
    pub ground: Ground,
    /// Which points make the angle.
    pub shape: AngleShape,
    /// Names of the points, in the order of `shape`.
    pub names: Vec<String>,
    /// How frames are put together.
    pub joined: Joined,
    first_spot: usize,
    pub(super) looks: usize,
    /// Sign of the world's x in the direction of travel.
    pub towards: f64,
    /// How narrow its plane is seen where it is seen most along itself; 1 is squarely.
    share: f64,
    camera: Option<[f64; 3]>,
    /// How lengths are brought to their depth.
    pub correction: Option<Correction>,
    /// How joints are brought into the plane of movement.
    joints: Option<Joints>,
}

/// How the angles of several frames make one value.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Joined {
    /// The first frame's.
    First,
    /// So much more than the first frame's.
    Past {
        /// By how much the value has gone on at the moment, as far as is known.
        ahead: f64,
    },
    /// Half way between the first frame's and another's.
    HalfWay {
        /// Place of the other frame among the looks.
        other: usize,
    },
    /// The peak of the parabola through the frames before, at and after the first one.
    Peak {
        /// Places of the three frames among the looks.
        looks: [usize; 3],
        /// Their times in seconds.
        seconds: [f64; 3],
        /// Sign of the angle, which tells on which side the peak is.
        sign: f64,
    },
    /// From the first frame's heading to the mean of some others.
    Turn {
        /// Places of the frames after the turn.
        after: Vec<usize>,
        /// +1 to the left, -1 to the right.
        sign: f64,
        /// About how far, in degrees.
        about: f64,
    },
}

impl Model {
    /// Sets the function up, or says why there is none.
    pub(crate) fn of(input: &MeasureInput) -> Result<Self, Refusal> {
        let model = Self::however_short(input)?;
        if model.share < GRAZING {
            return Err(Refusal::Grazing { share: model.share });
        }
        model.check_lengths(input)?;
        Ok(model)
    }

    /// Sets it up even where a line is too short to point, or the plane is seen almost along itself:
    /// what is around it can still be drawn.
    pub(crate) fn however_short(input: &MeasureInput) -> Result<Self, Refusal> {
        let first = input.looks.first().ok_or(Refusal::NoAngle { detail: "there are none" })?;
        check_view(input)?;
        let names: Vec<String> = first.spots.iter().map(|spot| spot.name.clone()).collect();
        let by_name: Vec<&str> = names.iter().map(String::as_str).collect();
        let shape = input.quantity.shape(&by_name)?;
        let ground = Ground::of(input, 0)?;
        let mut inputs = view_inputs(input, ground.fixed())?;
        let first_spot = inputs.len();
        for look in &input.looks {
            inputs.extend(spot_inputs(input, look, &names)?);
        }
        if !inputs.iter().all(|input| input.value.is_finite() && input.u.is_finite()) {
            return Err(Refusal::NoAngle { detail: "a coordinate is not a number" });
        }
        let correction = Correction::of(input, &ground, &mut inputs)?;
        let joints = Joints::of(input, &ground, &names, &mut inputs);
        let joined = Joined::First;
        let looks = input.looks.len();
        let mut model = Self {
            inputs,
            ground,
            shape,
            names,
            joined,
            first_spot,
            looks,
            towards: 1.0,
            share: 1.0,
            camera: None,
            correction,
            joints,
        };
        (model.towards, model.share) = model.towards(input)?;
        model.camera = model.camera(input);
        if input.quantity == Quantity::Turn {
            model.joined = Joined::Turn {
                after: vec![1],
                sign: if input.facts.rotation == Rotation::Left { 1.0 } else { -1.0 },
                about: input.facts.about.0,
            };
        }
        Ok(model)
    }

    /// Returns the best values of all inputs.
    pub(crate) fn best(&self) -> Vec<f64> {
        self.inputs.iter().map(|input| input.value).collect()
    }

    /// Returns the value with its sign; nothing where the numbers make none.
    pub(crate) fn value(&self, x: &[f64], variation: Variation) -> Option<f64> {
        let way = self.ground.way(x, variation)?;
        let angle = |look: usize| self.angle(&way, x, look, variation);
        match &self.joined {
            Joined::First => angle(0),
            Joined::Past { ahead } => Some(angle(0)? + ahead),
            Joined::HalfWay { other } => {
                let [first, other] = [angle(0)?, angle(*other)?];
                Some(first + wrap(other - first) / 2.0)
            }
            Joined::Peak { looks: [a, b, c], seconds, sign } => {
                let angles = [angle(*a)?, angle(*b)?, angle(*c)?].map(|angle| sign * angle);
                Some(sign * moment::peak(*seconds, angles)?.value)
            }
            Joined::Turn { after, sign, about } => {
                let [before, drop] = [angle(0)?, angle(*after.first()?)?];
                let others: f64 = after
                    .iter()
                    .map(|look| angle(*look).map(|heading| wrap(heading - drop)))
                    .sum::<Option<f64>>()?;
                let turned = sign * (drop + others / after.len() as f64 - before);
                Some(about + wrap(turned - about))
            }
        }
    }

    /// Returns the value of one frame alone.
    pub(crate) fn angle_of(&self, x: &[f64], look: usize) -> Option<f64> {
        self.angle(&self.ground.way(x, Variation::NONE)?, x, look, Variation::NONE)
    }

    /// Returns every line compared on the first frame, by its point's name, in degrees.
    pub(crate) fn compared(&self) -> Vec<(&str, f64)> {
        let x = self.best();
        let way = self.ground.way(&x, Variation::NONE);
        let places = way.and_then(|way| self.places(&way, &x, 0)).unwrap_or_default();
        if places.is_empty() {
            return Vec::new();
        }
        self.shape.compared(&places).into_iter().map(|(k, d)| (self.names[k].as_str(), d)).collect()
    }

    fn angle(&self, way: &Way, x: &[f64], look: usize, variation: Variation) -> Option<f64> {
        let mut places = self.places(way, x, look)?;
        if let (AngleShape::Heading { from, .. }, Some([cx, cy, cz])) = (&self.shape, self.camera) {
            // What stands up is mapped away from the camera; this brings it back.
            let share = (cz - variation.heel[look.min(1)]) / cz;
            let OnPlane([x, y]) = places[*from];
            places[*from] = OnPlane([cx + (x - cx) * share, cy + (y - cy) * share]);
        }
        let value = self.shape.value(&places, self.towards);
        match &self.correction {
            Some(correction) => Some(value * correction.factor((&self.ground, way), x, variation)?),
            None => Some(value),
        }
    }

    /// Returns where the points of a look are in the world, joints in the plane of movement.
    pub(crate) fn places(&self, way: &Way, x: &[f64], look: usize) -> Option<Vec<OnPlane>> {
        let clicked = self.clicked(x, look);
        let mut places: Vec<OnPlane> =
            clicked.into_iter().map(|point| way.place(point)).collect::<Option<_>>()?;
        if let Some(joints) = &self.joints {
            joints.bring_in(way, x, &mut places)?;
        }
        Some(places)
    }

    /// Returns where the points of a look were clicked.
    pub(crate) fn clicked(&self, x: &[f64], look: usize) -> Vec<Shown> {
        x[self.clicks_of(look)].chunks(2).map(|c| Shown([c[0], c[1]])).collect()
    }

    /// Returns where the coordinates of a look's points stand among the inputs.
    pub(crate) fn clicks_of(&self, look: usize) -> Range<usize> {
        let n = 2 * self.names.len();
        let begin = self.first_spot + look * n;
        begin..begin + n
    }

    fn check_lengths(&self, input: &MeasureInput) -> Result<(), Refusal> {
        let x = self.best();
        let is_foot = input.quantity == Quantity::Turn;
        let least = if is_foot { SHORT_FOOT } else { SHORT_LINE };
        let least = least.max(SHORT_FOR_CLICKS * input.facts.click);
        for look in 0..self.looks {
            let clicked = self.clicked(&x, look);
            for [a, b] in self.shape.lines() {
                let pixels = clicked[b].distance(clicked[a]);
                if pixels < least {
                    let [from, to] = [a, b].map(|k| self.names[k].clone());
                    let line = Refusal::ShortLine { from, to, pixels };
                    return Err(if is_foot { Refusal::ShortFoot { pixels } } else { line });
                }
            }
        }
        Ok(())
    }

    /// Returns the sign of the world's x in the direction of travel and how narrow the plane is seen,
    /// and refuses a plane seen along itself or a point beyond its horizon.
    fn towards(&self, input: &MeasureInput) -> Result<(f64, f64), Refusal> {
        let x = self.best();
        let way = self.ground.way(&x, Variation::NONE).ok_or(Refusal::NoFocalLength)?;
        let [mut right, mut least] = [1.0; 2];
        if let Way::Mapped { map, .. } = &way {
            for look in 0..self.looks {
                let clicked = self.clicked(&x, look);
                if clicked.iter().any(|point| way.place(*point).is_none()) {
                    return Err(Refusal::BeyondHorizon);
                }
                let (share, sign) =
                    Fixed::seen_at(map, Shown::mean(&clicked)).ok_or(Refusal::BeyondHorizon)?;
                if share < SLIVER {
                    return Err(Refusal::Grazing { share });
                }
                (right, least) = (sign, share.min(least));
            }
        }
        match (input.facts.travel, input.quantity) {
            (None, quantity) if quantity.needs_travel() => Err(Refusal::NoTravel),
            (Some(Travel::Left), _) => Ok((-right, least)),
            _ => Ok((right, least)),
        }
    }

    fn camera(&self, input: &MeasureInput) -> Option<[f64; 3]> {
        if input.facts.heel_height <= 0.0 {
            return None;
        }
        let place = self.ground.fixed()?.pose(input.facts.centre)?.place();
        let handed = match self.ground.way(&self.best(), Variation::NONE)? {
            Way::Mapped { handed, .. } => handed,
            Way::Turned { .. } => 1.0,
        };
        Some([place.x, place.y * handed, place.z.abs()])
    }
}

/// A foot shorter than this, in pixels, points nowhere.
const SHORT_FOOT: f64 = 12.0;
/// A limb or trunk shorter than this, in pixels, points nowhere.
const SHORT_LINE: f64 = 8.0;
/// What is shorter than so many standard deviations of a click points nowhere either.
const SHORT_FOR_CLICKS: f64 = 4.0;

fn check_view(input: &MeasureInput) -> Result<(), Refusal> {
    let quantity = input.quantity.words();
    let (plane, needed) = match (&input.view, input.quantity.lies()) {
        (View::Picture { .. } | View::Standing { .. }, Some(Lies::Flat)) => {
            return Err(Refusal::NoFloor { quantity });
        }
        (View::Picture { .. }, _) if input.quantity.needs_a_plane() => {
            return Err(Refusal::NoScale { quantity });
        }
        (View::Picture { .. }, _) | (View::Plane(_), None) => return Ok(()),
        (View::Plane(plane), Some(lies)) => (plane, lies),
        (View::Standing { floor, .. }, _) => (floor, Lies::Flat),
    };
    if plane.lies == needed {
        return if input.quantity == Quantity::Turn && input.looks.len() < 2 {
            Err(Refusal::NoDrop)
        } else {
            Ok(())
        };
    }
    Err(Refusal::WrongPlane { quantity, found: plane.lies.words(), needed: needed.words() })
}

fn view_inputs(
    input: &MeasureInput,
    fixed: Option<&Fixed>,
) -> Result<Vec<Input<ErrorSource>>, Refusal> {
    let line = |line: &[Vec<Shown>; 2]| {
        let spread = Spread::of(line.iter().map(Vec::as_slice), on_things(input));
        line.iter()
            .flat_map(|placed| coordinates(placed, spread, ErrorSource::Line))
            .collect::<Vec<_>>()
    };
    match &input.view {
        View::Picture { line: points, .. } if points.iter().all(|p| !p.is_empty()) => {
            let level = input.facts.level.map(|level| line(&level.map(|at| vec![at])));
            Ok(line(points).into_iter().chain(level.into_iter().flatten()).collect())
        }
        View::Picture { .. } => Ok(Vec::new()),
        View::Plane(plane) => plane_inputs(input, plane, fixed),
        View::Standing { floor, line: points } => {
            let mut inputs = plane_inputs(input, floor, fixed)?;
            inputs.extend(line(points));
            Ok(inputs)
        }
    }
}

fn plane_inputs(
    input: &MeasureInput,
    plane: &Plane,
    fixed: Option<&Fixed>,
) -> Result<Vec<Input<ErrorSource>>, Refusal> {
    let moved = input.facts.camera_moved;
    let Shown([x, y]) = input.facts.centre;
    if moved > MOST_MOVED * 2.0 * x.max(y) {
        return Err(Refusal::CameraMoved { pixels: moved });
    }
    let placed = plane.points.iter().map(|point| point.placed.as_slice());
    let mut spread = Spread::of(placed, on_things(input));
    if let Some(fixed) = fixed {
        if let Some(residual) = fixed.residual.filter(|it| *it > WRONG_POINT * spread.s.max(1.0)) {
            return Err(Refusal::NotOnePlane { residual });
        }
        spread = spread.of_a_plane(fixed.residual, fixed.freedom);
    }
    let size = Input {
        value: 1.0,
        u: plane.size_u,
        freedom: f64::INFINITY,
        cause: ErrorSource::PlaneSize,
    };
    let clicks = plane.points.iter().flat_map(|point| {
        coordinates(&point.placed, spread, ErrorSource::PlanePoints).map(|it| since(it, moved))
    });
    Ok([size, size].into_iter().chain(clicks).collect())
}

/// Adds to a click on the plane what the camera has moved since: every point may be off by as much, and
/// clicking it again where it was helps nothing.
fn since(click: Input<ErrorSource>, moved: f64) -> Input<ErrorSource> {
    let cause = if moved > click.u { ErrorSource::CameraMoved } else { click.cause };
    Input { u: click.u.hypot(moved), cause, ..click }
}

/// A camera that moved the picture by more than this share of its long side looks elsewhere.
const MOST_MOVED: f64 = 0.02;

/// Returns the coordinates of a look's points in the order of `names`.
fn spot_inputs(
    input: &MeasureInput,
    look: &ClickedFrame,
    names: &[String],
) -> Result<Vec<Input<ErrorSource>>, Refusal> {
    let all = input.looks.iter().flat_map(|look| &look.spots);
    let spread = Spread::of(all.map(|spot| spot.placed.as_slice()), usual(input));
    let mut inputs = Vec::new();
    for name in names {
        let spot = look
            .spots
            .iter()
            .find(|spot| spot.name == *name && !spot.placed.is_empty())
            .ok_or_else(|| Refusal::MissingPoint { name: name.clone() })?;
        inputs.extend(coordinates(&spot.placed, spread, ErrorSource::Clicks));
    }
    Ok(inputs)
}

fn coordinates(placed: &[Shown], spread: Spread, cause: ErrorSource) -> [Input<ErrorSource>; 2] {
    let u = placing::repeated(spread.s, placed.len());
    Shown::mean(placed).0.map(|value| Input { value, u, freedom: spread.freedom, cause })
}

/// What a person said of her clicks is of all of them; what was learnt is of the points of the body.
fn on_things(input: &MeasureInput) -> Spread {
    if input.facts.click_freedom.is_finite() { Spread::USUAL } else { usual(input) }
}

fn usual(input: &MeasureInput) -> Spread {
    Spread { s: input.facts.click, freedom: input.facts.click_freedom }
}
