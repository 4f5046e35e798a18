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
    #[error("the points do not make an angle: {detail}; click them again")]
    NoAngle {
        /// What is wrong with them.
        detail: &'static str,
    },
    /// The direction of travel is needed for the sign.
    #[error("say in which direction the athlete travels, left or right in the picture")]
    NoTravel,
    /// A turn needs the floor.
    #[error(
        "a turn is measured on the floor: click four corners of a mat or of the beam's top, or \
         say past, not past or can't tell against a direction on the floor"
    )]
    NoFloor,
    /// The wrong sort of plane for this quantity.
    #[error("the plane of this reading is {found}, but a {quantity} needs {needed}")]
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
         click points further apart in both directions"
    )]
    InLine,
    /// The points of the plane are in the wrong order.
    #[error("the points of the plane cross over, so two of them have changed places; swap them")]
    Crossed,
    /// The points of the plane do not fit one plane.
    #[error(
        "the points of the plane miss their places by {residual:.1} px, far more than a click; \
         one of them is wrong or they do not lie in one plane"
    )]
    NotOnePlane {
        /// Root mean square of the misses in pixels.
        residual: f64,
    },
    /// A point lies beyond the horizon of the plane.
    #[error("a point lies on or beyond the plane's horizon, where it has no place on the plane")]
    BeyondHorizon,
    /// The plane is seen almost along itself.
    #[error(
        "the camera looks along the plane: what is one long there is only {share:.2} wide in the \
         picture; measure from a view that is more square, or say it by eye"
    )]
    Grazing {
        /// Shortest over longest picture of one length in the plane.
        share: f64,
    },
    /// What carries the angle is only a few pixels long.
    #[error(
        "{what} is only {pixels:.0} px long, too short to point; say past, not past or can't \
         tell against a direction on the floor, or film from nearer or higher"
    )]
    TooShort {
        /// What is too short.
        what: &'static str,
        /// Its length in the picture.
        pixels: f64,
    },
    /// The uncertainty is so large that the value says nothing.
    #[error("the angle is not known better than ± {u:.0}°, so it says nothing; say it by eye")]
    TooUncertain {
        /// Standard uncertainty in degrees.
        u: f64,
    },
    /// The focal length does not follow from this view.
    #[error("the camera's focal length cannot be found from this plane: {detail}")]
    NoFocalLength {
        /// Why not.
        detail: &'static str,
    },
}
