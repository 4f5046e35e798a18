//! Which points of one frame make a value, in a world with x to one side and y up.

use super::angle::{between, elevation, length, off_vertical};
use crate::units::OnPlane;

/// Which of the named points make the value, found once by name and then used many times.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum AngleShape {
    /// The lowest of the lines from one point to each of several body parts, against horizontal.
    Lowest {
        /// Where the lines begin.
        from: usize,
        /// Where they end.
        to: Vec<usize>,
    },
    /// Of such lines the one that is furthest off vertical.
    Furthest {
        /// Where the lines begin.
        from: usize,
        /// Where they end.
        to: Vec<usize>,
    },
    /// From the middle of some points to the middle of others, against vertical.
    Lean {
        /// Whose middle is below.
        from: Vec<usize>,
        /// Whose middle is above.
        to: Vec<usize>,
    },
    /// Between two legs, each from its hip.
    Opening {
        /// Hip and end of each leg.
        legs: [[usize; 2]; 2],
        /// A point of the trunk, which tells the side on which the legs do not open; up without.
        trunk: Option<usize>,
    },
    /// From one point to another, against straight down.
    Raise {
        /// The hip.
        from: usize,
        /// The end of the leg.
        to: usize,
    },
    /// Direction from one point to another, from the x axis towards the y axis.
    Heading {
        /// The heel.
        from: usize,
        /// The toe.
        to: usize,
    },
    /// How far the line goes on from a joint in another direction than it came.
    Bend {
        /// Near end, joint, far end.
        through: [usize; 3],
    },
    /// Where a body faces that has its left at one point and its right at another, from the
    /// direction of travel.
    Facing {
        /// The left side's point.
        left: usize,
        /// The right side's point.
        right: usize,
    },
    /// Distance between two points.
    Distance {
        /// Where it begins.
        from: usize,
        /// Where it ends.
        to: usize,
    },
    /// Distance of a point from a line.
    Beside {
        /// Two points of the line.
        line: [usize; 2],
        /// The point.
        point: usize,
    },
    /// One distance over another.
    Ratio {
        /// The distance.
        of: [usize; 2],
        /// What it is counted in.
        over: [usize; 2],
    },
}

impl AngleShape {
    /// Returns the value in the quantity's unit; `towards` is +1 or -1, the sign of x in the
    /// direction of travel. What has a side to it keeps its sign.
    pub fn value(&self, points: &[OnPlane], towards: f64) -> f64 {
        let line = |from: usize, to: usize| points[to] - points[from];
        let middle = |of: &[usize]| OnPlane::mean(of.iter().map(|at| points[*at]));
        match self {
            Self::Lowest { from, to } => {
                to.iter().map(|part| elevation(line(*from, *part))).fold(f64::INFINITY, f64::min)
            }
            Self::Furthest { from, to } => to
                .iter()
                .map(|part| off_vertical(line(*from, *part)))
                .fold(0.0, |a: f64, b| if b.abs() > a.abs() { b } else { a }),
            Self::Lean { from, to } => {
                let [x, y] = middle(to) - middle(from);
                (x * towards).atan2(y).to_degrees()
            }
            Self::Opening { legs, trunk } => {
                let hips = middle(&[legs[0][0], legs[1][0]]);
                let [x, y] = trunk.map_or([0.0, 1.0], |at| points[at] - hips);
                let [a, b] = legs.map(|[hip, end]| between([-x, -y], line(hip, end)));
                (a - b).abs()
            }
            Self::Raise { from, to } => between([0.0, -1.0], line(*from, *to)),
            Self::Heading { from, to } => {
                let [x, y] = line(*from, *to);
                y.atan2(x).to_degrees()
            }
            Self::Bend { through: [near, joint, far] } => {
                between(line(*near, *joint), line(*joint, *far))
            }
            Self::Facing { left, right } => {
                let [x, y] = line(*right, *left);
                between([towards, 0.0], [y, -x])
            }
            Self::Distance { from, to } => length(line(*from, *to)),
            Self::Beside { line: [a, b], point } => {
                let [along, off] = [line(*a, *b), line(*a, *point)];
                (along[0] * off[1] - along[1] * off[0]) / length(along)
            }
            Self::Ratio { of, over } => length(line(of[0], of[1])) / length(line(over[0], over[1])),
        }
    }

    /// Returns every line that was compared, by the place of the point at its end, in degrees.
    pub fn compared(&self, points: &[OnPlane]) -> Vec<(usize, f64)> {
        match self {
            Self::Lowest { from, to } => {
                to.iter().map(|part| (*part, elevation(points[*part] - points[*from]))).collect()
            }
            Self::Furthest { from, to } => {
                to.iter().map(|part| (*part, off_vertical(points[*part] - points[*from]))).collect()
            }
            _ => Vec::new(),
        }
    }

    /// Returns the pairs of points whose distance carries the value.
    pub fn lines(&self) -> Vec<[usize; 2]> {
        match self {
            Self::Lowest { from, to } | Self::Furthest { from, to } => {
                to.iter().map(|part| [*from, *part]).collect()
            }
            Self::Lean { from, to } => {
                from.iter().zip(to.iter().cycle()).map(|(a, b)| [*a, *b]).collect()
            }
            Self::Opening { legs, .. } => legs.to_vec(),
            Self::Raise { from, to } | Self::Heading { from, to } | Self::Distance { from, to } => {
                vec![[*from, *to]]
            }
            Self::Bend { through: [near, joint, far] } => vec![[*near, *joint], [*joint, *far]],
            Self::Facing { left, right } => vec![[*right, *left]],
            Self::Beside { line, .. } => vec![*line],
            // Knees may touch.
            Self::Ratio { over, .. } => vec![*over],
        }
    }
}

/// A point of the quantity that was not clicked, by its name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MissingPoint(pub String);

/// The names of the points that were clicked; what is found of them are places in this list.
pub struct NamedPoints<'a>(pub &'a [&'a str]);

impl NamedPoints<'_> {
    pub(super) fn find(&self, name: &str) -> Option<usize> {
        self.0.iter().position(|known| *known == name)
    }

    pub(super) fn need(&self, name: &str) -> Result<usize, MissingPoint> {
        self.find(name).ok_or_else(|| MissingPoint(name.to_owned()))
    }

    /// Returns those that were clicked; the last is asked for where none was.
    pub(super) fn some(&self, of: &[&str]) -> Result<Vec<usize>, MissingPoint> {
        let found: Vec<usize> = of.iter().filter_map(|name| self.find(name)).collect();
        match of.last() {
            Some(last) if found.is_empty() => Err(MissingPoint((*last).to_owned())),
            _ => Ok(found),
        }
    }

    /// To the knee only when that was clicked: the leg is bent then, which is a fault of its own.
    pub(super) fn end_of_leg(&self, side: &str) -> Result<usize, MissingPoint> {
        self.find(&format!("{side} knee")).map_or_else(|| self.need(&format!("{side} ankle")), Ok)
    }
}
