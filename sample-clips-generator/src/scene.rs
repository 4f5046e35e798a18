//! The apparatus: what stands in the hall, in metres.
//!
//! Sizes as published for women's apparatus: rails 2.40 m long and 4 cm thick, the high rail's top
//! 2.50 m and the low rail's 1.70 m above the floor, beam 5.00 m by 10 cm at 1.25 m, springboard
//! 1.20 m by 60 cm and about 20 cm high, landing mats 20 cm thick, and a stack of mats 81 cm high
//! (32 inches), a usual least height for beginners' vaults, of four mats 20 cm thick and
//! 1.52 by 3.05 m (5 by 10 feet) laid across the run. Heights count from the floor.

use crate::figure::V3;

/// What a solid is covered with, which decides its colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Finish {
    /// A rail or a beam's top.
    Wood,
    /// Steel uprights and legs.
    Steel,
    /// A blue landing mat.
    Mat,
    /// A soft mat of the stack.
    Soft,
    /// The carpet of a runway or floor area.
    Carpet,
}

/// A shape in the hall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shape {
    /// A round bar from one point to another, with its radius.
    Bar(V3, V3, f64),
    /// A block between its lowest and highest corner.
    Block(V3, V3),
    /// A springboard: a block whose top falls to nothing at its left end.
    Wedge(V3, V3),
}

/// A thing that can be touched.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Solid {
    /// What the truth file calls it.
    pub name: &'static str,
    /// Its shape.
    pub shape: Shape,
    /// Its surface.
    pub finish: Finish,
}

/// All apparatus of a motion.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Scene {
    /// From the floor up.
    pub solids: Vec<Solid>,
}

/// Top of the landing mats at the bars.
pub const MAT: f64 = 0.20;
/// The low rail's axis: 1.70 m to its top.
pub const LOW_BAR: [f64; 3] = [-0.80, 0.0, 1.68];
/// The high rail's axis: 2.50 m to its top; 1.83 m from the low rail along the diagonal.
pub const HIGH_BAR: [f64; 3] = [0.85, 0.0, 2.48];
/// Half the thickness of a rail.
pub const RAIL: f64 = 0.02;
/// Top of the beam.
pub const BEAM: f64 = 1.25;
/// Top of the stack of mats.
pub const STACK: f64 = 0.81;
/// Length of the stack along the run.
pub const STACK_LENGTH: f64 = 1.52;

impl Scene {
    /// Adds a block between its lowest and highest corner.
    #[must_use]
    pub fn block(mut self, name: &'static str, finish: Finish, lo: [f64; 3], hi: [f64; 3]) -> Self {
        let shape = Shape::Block(V3::from(lo), V3::from(hi));
        self.solids.push(Solid { name, shape, finish });
        self
    }

    /// Returns the uneven bars over landing mats.
    pub fn bars() -> Self {
        let scene = Self::default().block("mat", Finish::Mat, [-3.2, -1.25, 0.0], [4.4, 1.25, MAT]);
        scene.rail("low bar", LOW_BAR).rail("high bar", HIGH_BAR)
    }

    /// Returns the stack of mats with springboard, runway and landing mat.
    pub fn stack() -> Self {
        let mut scene = Self::default()
            .block("runway", Finish::Carpet, [-12.0, -0.5, 0.0], [-0.7, 0.5, 0.02])
            .block("mat", Finish::Mat, [STACK_LENGTH, -1.25, 0.0], [5.6, 1.25, MAT])
            .block("stack", Finish::Soft, [0.0, -1.525, 0.0], [STACK_LENGTH, 1.525, STACK]);
        let shape = Shape::Wedge(V3::new(-1.95, -0.3, 0.02), V3::new(-0.75, 0.3, 0.21));
        scene.solids.push(Solid { name: "board", shape, finish: Finish::Wood });
        scene
    }

    /// Returns the beam over landing mats.
    pub fn beam() -> Self {
        let scene = Self::default().block("mat", Finish::Mat, [-3.4, -1.25, 0.0], [3.4, 1.25, MAT]);
        let scene = scene.post([-1.6, 0.0, MAT], [-1.6, 0.0, 1.12], 0.05).post(
            [1.6, 0.0, MAT],
            [1.6, 0.0, 1.12],
            0.05,
        );
        scene.block("beam", Finish::Wood, [-2.5, -0.05, BEAM - 0.13], [2.5, 0.05, BEAM])
    }

    /// Returns a floor area.
    pub fn floor() -> Self {
        Self::default().block("floor", Finish::Carpet, [-6.0, -3.0, 0.0], [6.0, 9.0, 0.02])
    }

    /// Returns the highest top under or over (x, y), the bare floor being 0.
    pub fn top(&self, x: f64, y: f64) -> f64 {
        self.solids.iter().filter_map(|s| s.top_at(x, y)).fold(0.0, f64::max)
    }

    fn rail(self, name: &'static str, [x, _, z]: [f64; 3]) -> Self {
        let mut scene = self.post([x, -1.2, MAT], [x, -1.2, z - 0.04], 0.025).post(
            [x, 1.2, MAT],
            [x, 1.2, z - 0.04],
            0.025,
        );
        let shape = Shape::Bar(V3::new(x, -1.2, z), V3::new(x, 1.2, z), RAIL);
        scene.solids.push(Solid { name, shape, finish: Finish::Wood });
        scene
    }

    fn post(mut self, from: [f64; 3], to: [f64; 3], radius: f64) -> Self {
        let shape = Shape::Bar(V3::from(from), V3::from(to), radius);
        self.solids.push(Solid { name: "upright", shape, finish: Finish::Steel });
        self
    }
}

impl Solid {
    /// Returns the height of the top at (x, y), if the solid is a block that lies there.
    pub fn top_at(&self, x: f64, y: f64) -> Option<f64> {
        let (Shape::Block(lo, hi) | Shape::Wedge(lo, hi)) = self.shape else { return None };
        let inside = x >= lo.x && x <= hi.x && y >= lo.y && y <= hi.y;
        let share = match self.shape {
            Shape::Wedge(..) => ((x - lo.x) / (hi.x - lo.x)).sqrt(),
            _ => 1.0,
        };
        inside.then_some(lo.z + (hi.z - lo.z) * share)
    }

    /// Returns how far `p` is from the surface, negative inside.
    pub fn distance(&self, p: V3) -> f64 {
        match self.shape {
            Shape::Bar(a, b, radius) => {
                let along = ((p - a).dot(&(b - a)) / (b - a).norm_squared()).clamp(0.0, 1.0);
                (p - a - (b - a) * along).norm() - radius
            }
            Shape::Block(lo, hi) => from_block(p, lo, hi),
            Shape::Wedge(lo, hi) => {
                let top = self.top_at(p.x.clamp(lo.x, hi.x), p.y.clamp(lo.y, hi.y));
                from_block(p, lo, V3::new(hi.x, hi.y, top.unwrap_or(hi.z)))
            }
        }
    }
}

fn from_block(p: V3, lo: V3, hi: V3) -> f64 {
    let beyond = V3::from_fn(|k, _| (lo[k] - p[k]).max(p[k] - hi[k]));
    let outside = beyond.map(|v| v.max(0.0)).norm();
    if outside > 0.0 { outside } else { beyond.max() }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Worked by hand: the diagonal between the rails, which the trade allows from 1.30 to 1.90 m.
    #[test]
    fn the_rails_are_apart_as_published() {
        let diagonal = (V3::from(HIGH_BAR) - V3::from(LOW_BAR)).norm();
        assert!((1.30..=1.90).contains(&diagonal), "{diagonal}");
    }

    #[test]
    fn knows_what_lies_where() {
        let scene = Scene::stack();
        assert_eq!(scene.top(1.0, 0.0), STACK);
        assert_eq!(scene.top(3.0, 0.0), MAT);
        assert_eq!(scene.top(1.0, 5.0), 0.0);
        let stack = scene.solids.iter().find(|s| s.name == "stack").unwrap();
        assert!((stack.distance(V3::new(1.0, 0.0, 1.0)) - 0.19).abs() < 1e-12);
        assert!(stack.distance(V3::new(1.0, 0.0, 0.8)) < 0.0);
    }
}
