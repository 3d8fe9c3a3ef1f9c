//! How the wheels on a beam add up to a result: each wheel times the influence ordinate at its place.

use haunch_mechanics::beam::{Diagram, Envelope, Extreme, Response};
use haunch_quantity::typed::{Length, Typed};
use haunch_quantity::{Dimension, Quantity};
use smol_str::SmolStr;

use super::results::reaction;
use super::{BeamModel, Combination};
use crate::blocks::limits::place_text;

/// What makes a result extreme.
#[derive(Debug, Clone, PartialEq)]
pub struct WheelsWorking {
    /// Where the result is and where the wheels stand, in words.
    pub place: String,
    /// The case of the wheels, by its index.
    pub case: usize,
    /// The factor of the wheels in the combination.
    pub factor: f64,
    /// The wheels on the beam, in the order of their line.
    pub wheels: Vec<WheelShare>,
    /// The wheels' share of the result, their factor put in.
    pub of_wheels: Quantity,
    /// The share of all other loads.
    pub of_others: Quantity,
}

/// A wheel and its influence ordinate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WheelShare {
    /// The load of the wheel.
    pub load: Quantity,
    /// What a load of one does: a length for a moment, a ratio for a shear or a reaction.
    pub ordinate: Quantity,
}

/// A result that an extreme of a combination gives.
#[derive(Debug, Clone, Copy)]
enum Wanted {
    Moment { largest: bool },
    Shear { largest: bool },
    Reaction { support: usize, side: Side },
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Side {
    Largest,
    Smallest,
    Magnitude,
}

impl BeamModel {
    /// The working of a result by its name after the beam's, such as `M_max` or `strength.R1`. None
    /// for other results, and where no wheels stand on the beam when it is extreme.
    pub fn wheels_working(&self, member: &str) -> Option<WheelsWorking> {
        let (under, name) = match member.rsplit_once('.') {
            Some((under, name)) => (Some(under), name),
            None => (None, member),
        };
        let wanted = self.wanted(name)?;
        let is_asked = |c: &&Combination| under.is_none_or(|u| c.name.as_deref() == Some(u));
        let combinations: Vec<&Combination> = self.combinations.iter().filter(is_asked).collect();
        let (which, x, value) = wanted.governing(&combinations)?;
        let combination = combinations.get(which)?;
        let standing = combination.wheels.as_ref()?;
        let train = self.cases.get(standing.case)?.train.as_ref()?;
        let mut wheels = Vec::new();
        let mut sum = 0.0;
        let places = standing.places.iter().zip(train.wheels());
        for (index, (at, wheel)) in places.enumerate() {
            let Some(at) = at else {
                continue;
            };
            let alone = wanted.value(&train.wheel_alone(index, *at)?, x)?;
            sum += alone;
            wheels.push(WheelShare {
                load: wheel.down.to_quantity()?,
                ordinate: Quantity::new(alone / wheel.down.si(), wanted.of_ordinate())?,
            });
        }
        if wheels.is_empty() {
            return None;
        }
        let of_wheels = standing.factor * sum;
        Some(WheelsWorking {
            place: self.words(combination, x),
            case: standing.case,
            factor: standing.factor,
            wheels,
            of_wheels: Quantity::new(of_wheels, wanted.dimension())?,
            of_others: Quantity::new(value - of_wheels, wanted.dimension())?,
        })
    }

    fn wanted(&self, name: &str) -> Option<Wanted> {
        let (largest, smallest) = (true, false);
        match name {
            "M_max" => return Some(Wanted::Moment { largest }),
            "M_min" => return Some(Wanted::Moment { largest: smallest }),
            "V_max" => return Some(Wanted::Shear { largest }),
            "V_min" => return Some(Wanted::Shear { largest: smallest }),
            _ => {}
        }
        let of_support = |name: &str, side: Side| {
            let mut supports = self.supports.iter().enumerate();
            let is_it = |(index, support): &(usize, &super::BeamSupport)| {
                support.name.as_deref() == Some(name) || name == format!("R{}", index + 1)
            };
            let support = supports.find(is_it)?.0;
            Some(Wanted::Reaction { support, side })
        };
        let one_sided = match (name.strip_suffix("_max"), name.strip_suffix("_min")) {
            (Some(support), _) => of_support(support, Side::Largest),
            (_, Some(support)) => of_support(support, Side::Smallest),
            _ => None,
        };
        // A support's own name comes first.
        of_support(name, Side::Magnitude).or(one_sided)
    }

    /// `at 2.6 m, under loaded, trolley at 2.6 m and 4.4 m`
    fn words(&self, combination: &Combination, x: Option<Extreme<Length>>) -> String {
        let mut words: Vec<String> = Vec::new();
        if let (Some(x), Some(running)) = (x, self.running.first()) {
            let preferences = &running.shown.preferences;
            let at = place_text(x.at.si(), self.length_unit.as_ref(), preferences);
            words.push(format!("at {at}"));
        }
        let name: Option<&SmolStr> = combination.name.as_ref();
        words.extend(name.map(|name| format!("under {name}")));
        words.extend(combination.pattern.as_ref().map(ToString::to_string));
        words.join(", ")
    }
}

impl Wanted {
    /// Which combination governs, where along the beam, and the value.
    fn governing(self, all: &[&Combination]) -> Option<(usize, Option<Extreme<Length>>, f64)> {
        fn along<Q: Typed>(
            diagrams: &[&Diagram<Q>],
            largest: bool,
        ) -> Option<(usize, Option<Extreme<Length>>, f64)> {
            let envelope = Envelope::of(diagrams)?;
            let governing = if largest { envelope.max } else { envelope.min };
            let Extreme { value, at, side } = governing.extreme;
            let place = Extreme {
                value: at,
                at,
                side,
            };
            Some((governing.which, Some(place), value.si()))
        }
        match self {
            Wanted::Moment { largest } => {
                let diagrams: Vec<_> = all.iter().map(|c| c.response.moment()).collect();
                along(&diagrams, largest)
            }
            Wanted::Shear { largest } => {
                let diagrams: Vec<_> = all.iter().map(|c| c.response.shear()).collect();
                along(&diagrams, largest)
            }
            Wanted::Reaction { support, side } => {
                let mut best: Option<(usize, f64)> = None;
                for (which, combination) in all.iter().enumerate() {
                    let value = reaction(&combination.response, support)?.si();
                    let is_more = |other: f64| match side {
                        Side::Largest => value > other,
                        Side::Smallest => value < other,
                        Side::Magnitude => value.abs() > other.abs(),
                    };
                    if best.is_none_or(|(_, other)| is_more(other)) {
                        best = Some((which, value));
                    }
                }
                best.map(|(which, value)| (which, None, value))
            }
        }
    }

    fn value(self, response: &Response, x: Option<Extreme<Length>>) -> Option<f64> {
        match self {
            Wanted::Moment { .. } => Some(response.moment().at(x?.at, x?.side)?.si()),
            Wanted::Shear { .. } => Some(response.shear().at(x?.at, x?.side)?.si()),
            Wanted::Reaction { support, .. } => Some(reaction(response, support)?.si()),
        }
    }

    fn dimension(self) -> Dimension {
        match self {
            Wanted::Moment { .. } => Dimension::MOMENT,
            Wanted::Shear { .. } | Wanted::Reaction { .. } => Dimension::FORCE,
        }
    }

    fn of_ordinate(self) -> Dimension {
        match self {
            Wanted::Moment { .. } => Dimension::LENGTH,
            Wanted::Shear { .. } | Wanted::Reaction { .. } => Dimension::RATIO,
        }
    }
}
