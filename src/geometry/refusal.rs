use super::{Quantity, shape::MissingPoint};
use crate::units::Magnitude;

/// Why something cannot be measured, in words that say what to do instead.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Refusal {
    /// A point of the quantity was not clicked.
    #[error("the {name} is not clicked; click it on the same frame as the other points")]
    MissingPoint {
        /// What the point is.
        name: String,
    },
    /// A coordinate or size is not a number, or a length is zero.
    #[error("the points give no value: {detail}; click them again")]
    NoAngle {
        /// What is wrong with them.
        detail: &'static str,
    },
    /// The marks stand on no clip.
    #[error("the marks name no clip, so there is no picture to measure in; open the clip first")]
    NoClip,
    /// The reading is of a routine without a clip.
    #[error("the reading is on no frame; go to the frame and measure there")]
    NoFrame,
    /// The foot at the end of a turn was not clicked.
    #[error(
        "the foot at the first heel drop is not clicked; go to that frame and click its heel and \
         its toe"
    )]
    NoDrop,
    /// A length has no size in the picture.
    #[error(
        "the picture alone has no metres: click a plane of known size, in which the {quantity} lies"
    )]
    NoScale {
        /// The quantity in words.
        quantity: &'static str,
    },
    /// Nobody said at which depth a length lies.
    #[error(
        "a length at another depth than the plane's looks longer or shorter; say how much nearer \
         to the camera than the plane it lies, 0 where it lies in it"
    )]
    NoDepth,
    /// How far the camera stands does not follow from this view.
    #[error(
        "how far the camera stands does not follow from a plane seen so squarely; say how many \
         metres it stands from the plane"
    )]
    NoDistance,
    /// The depth reaches up to the camera.
    #[error(
        "the camera stands {distance:.1} m from the plane, and the depth said reaches up to it; \
         say both again"
    )]
    TooNear {
        /// Metres from the camera to the plane.
        distance: f64,
    },
    /// The line of travel on the floor was not clicked.
    #[error("the line of travel is not clicked; click two points of it on the floor, far apart")]
    NoLine,
    /// Of two lines that tell how the picture stands, both go one way.
    #[error(
        "both lines clicked are uprights, or both are level; click one of each (L), or one alone"
    )]
    LinesAlike,
    /// The marks have no plane of this name.
    #[error("there is no plane \"{name}\" among the marks; choose another or click it again")]
    NoPlane {
        /// The name that the reading gives.
        name: String,
    },
    /// A point of the plane was never clicked.
    #[error("a corner of the plane is not clicked; click every corner that is asked for")]
    CornerMissing,
    /// The direction of travel is needed for the sign.
    #[error("say in which direction the athlete travels, left or right in the picture")]
    NoTravel,
    /// What goes round needs the surface it goes round on.
    #[error(
        "a {quantity} is measured on its surface: click four corners of a mat, or of the top of \
         beam or table, or say past, not past or can't tell against a direction on it"
    )]
    NoFloor {
        /// The quantity in words.
        quantity: &'static str,
    },
    /// The wrong sort of plane for this quantity.
    #[error(
        "the plane of this reading is {found}, but a {quantity} needs one that is {needed}; \
         choose another or click one"
    )]
    WrongPlane {
        /// The quantity in words.
        quantity: &'static str,
        /// The sort of plane found.
        found: &'static str,
        /// The sort of plane needed.
        needed: &'static str,
    },
    /// Fewer than four points tie the plane to the picture.
    #[error("{found} points of known place are too few for a plane; click four or more")]
    TooFewPoints {
        /// How many there are.
        found: usize,
    },
    /// The points of the plane lie almost in a line, or on top of each other.
    #[error(
        "the points of the plane lie almost in one line, so the plane is not fixed across it; \
         click points further apart in both directions; for a turn any level mat does, also \
         one under a beam"
    )]
    InLine,
    /// The points of the plane are in the wrong order.
    #[error("the points of the plane cross over, so two of them have changed places; swap them")]
    Crossed,
    /// The points of the plane do not fit one plane.
    #[error(
        "the points of the plane miss their places by {residual:.1} px, far more than a click; \
         one of them is wrong or they do not lie in one plane; click them again, or leave one out"
    )]
    NotOnePlane {
        /// Root mean square of the misses in pixels.
        residual: f64,
    },
    /// The picture has gone on since the plane was clicked.
    #[error(
        "the camera has moved since the plane was clicked: it lies {pixels:.0} px off by now; click \
         the plane anew on this frame"
    )]
    CameraMoved {
        /// By how much.
        pixels: f64,
    },
    /// A point lies beyond the horizon of the plane.
    #[error(
        "a point lies on or beyond the plane's horizon, where it has no place on the plane; click \
         it again, or choose a plane nearer to it"
    )]
    BeyondHorizon,
    /// The plane is seen almost along itself.
    #[error(
        "the camera looks along the plane: what is one long there is only {share:.2} wide in the \
         picture. Film from higher (a mat) or more squarely (a side); in this picture say past, not \
         past or can't tell (Y N U) against the plane's own directions, which G draws"
    )]
    Grazing {
        /// Shortest over longest picture of one length in the plane.
        share: f64,
    },
    /// The foot is only a few pixels long.
    #[error(
        "the foot is only {pixels:.0} px long, too short to point; say past, not past or can't \
         tell against a direction on the floor, or film from nearer or higher"
    )]
    ShortFoot {
        /// Its length in the picture.
        pixels: f64,
    },
    /// A line of the body is only a few pixels long.
    #[error(
        "from {from} to {to} it is only {pixels:.0} px, too short to point; click points further \
         apart, film from nearer, or say it by eye"
    )]
    ShortLine {
        /// Where it begins.
        from: String,
        /// Where it ends.
        to: String,
        /// Its length in the picture.
        pixels: f64,
    },
    /// The uncertainty is so large that the value says nothing.
    #[error(
        "the {} is not known {}, so it says nothing; say it by eye",
        .quantity.words(), better_than(*.quantity, *.u)
    )]
    TooUncertain {
        /// What was measured.
        quantity: Quantity,
        /// Standard uncertainty.
        u: Magnitude,
    },
    /// The focal length does not follow from this view.
    #[error(
        "where the camera stands does not follow from this floor: it is seen too squarely, or its \
         sizes or the order of its points are wrong; check them, or click a plane along the \
         movement instead"
    )]
    NoFocalLength,
}

impl Refusal {
    /// Returns whether more clicks of what is asked for anyway will mend it.
    pub(crate) const fn is_unfinished(&self) -> bool {
        matches!(
            self,
            Self::MissingPoint { .. }
                | Self::NoDrop
                | Self::NoLine
                | Self::NoDepth
                | Self::NoDistance
        )
    }
}

impl From<MissingPoint> for Refusal {
    fn from(MissingPoint(name): MissingPoint) -> Self {
        Self::MissingPoint { name }
    }
}

fn better_than(quantity: Quantity, u: Magnitude) -> String {
    if u.is_finite() {
        format!("better than ± {}", quantity.write(u))
    } else {
        "at all".to_owned()
    }
}
