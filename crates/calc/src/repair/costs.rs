//! What speaks for and against a repair, and how much each of it counts.
//!
//! The cost of a repair is the sum of its reasons, each with how much of it there is; the least cost comes
//! first. The numbers come from the looked-at slips of the repository's corpus: the ranking that gives
//! the right repairs the most likely places, held near what was judged by hand (`tests/mistakes/fit.py`
//! computes them again).

/// One thing that speaks for or against a repair.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reason {
    /// Another name, whichever it is, for slips that the line tells by itself.
    NameAny,
    /// One more factor, whichever it is, likewise.
    FactorAny,
    /// A name changes to one with the same place in another series: `y1` to `A1`.
    NameOfSeries,
    /// A name changes to one that begins alike.
    NameAlike,
    /// A name changes to any other.
    NameOther,
    /// One result of a block changes to another of the same block.
    Member,
    /// Every name of a sum changes to the ones of another series.
    SumOfSeries,
    /// A power changes or is taken away.
    PowerChanged,
    /// A power is added to what had none.
    PowerAdded,
    /// How many steps beyond one the power changes by.
    PowerSteps,
    /// The power is above 4.
    PowerHigh,
    /// Letters that are hardly ever raised, from 0 to 0.5.
    RarelyRaised,
    /// A factor is left out.
    LeftOut,
    /// A factor that stands twice in the product is left out.
    LeftOutTwice,
    /// A factor goes to the other side of the stroke.
    OtherSide,
    /// How many factors beyond one go with it.
    OtherSideMore,
    /// A count goes with it.
    OtherSideCount,
    /// It stood below the stroke.
    OtherSideUp,
    /// A fraction is turned over.
    TurnedOver,
    /// Plain numbers stay where they are.
    TurnedOverApart,
    /// A factor above the stroke and one below change places.
    Exchanged,
    /// A root is taken of what stands in parentheses.
    RootOfGroup,
    /// A root is taken of a product.
    RootOfProduct,
    /// A root is taken of a whole sum.
    RootOfSum,
    /// A root is taken of some factors of a product.
    RootOfFactors,
    /// A root is left out.
    RootLeftOut,
    /// A factor is put in above the stroke.
    FactorAbove,
    /// A factor is put in below the stroke.
    FactorBelow,
    /// A factor is put in with a power: the power less one.
    FactorRaised,
    /// One factor is put in above the stroke and one below.
    FactorPair,
    /// A weighted sum is divided by its weights.
    ByWeights,
    /// Parentheses are put in.
    ParenthesesPutIn,
    /// Parentheses are left out.
    ParenthesesLeftOut,
    /// Parentheses are moved.
    ParenthesesMoved,
    /// They close before a stroke: a sum that was meant above it.
    ParenthesesBeforeStroke,
    /// A quantity's unit changes to one that fits.
    UnitChanged,
    /// The unit stands nowhere else in the file.
    UnitStrange,
    /// The quantity is a factor of a product.
    UnitInProduct,
    /// A plain number gets a unit.
    UnitAdded,
    /// A quantity becomes a plain number.
    UnitLeftOut,
    /// A difference becomes a ratio.
    SumToRatio,
    /// A sum becomes a product.
    SumToProduct,
    /// A bound on a deflection becomes a part of the span.
    PartOfSpan,
    /// A mass becomes a weight.
    Weight,
    /// The brackets ask for what the formula gives.
    Brackets,
    /// The line's name usually stands for that.
    BracketsFitName,
    /// The line's name usually stands for what the brackets asked before.
    BracketsAgainstName,
    /// The trade has no name for what the formula gives.
    BracketsUnnamed,
    /// Lines that use the value fit what the brackets asked before.
    BracketsFitUsers,
    /// None of the lines that use the value does.
    BracketsAgainstUsers,
    /// The name that comes in has no value.
    NoValue,
    /// It is defined further down.
    Below,
    /// It is given and nothing uses it: no name is left over. Shared among all such names.
    GivenUnused,
    /// It is a result far above that nothing uses.
    ResultUnused,
    /// It is a result of one of the few lines above that nothing uses.
    ResultUnusedNear,
    /// It is a result that other lines use.
    ResultUsed,
    /// How many lines use it, 5 at most.
    Readers,
    /// It has the same place in a series as a name beside it or the name on the left.
    InSeries,
    /// The share of the line's other names that stand with it on some other line.
    Together,
    /// It is in the product already.
    Again,
    /// The name that goes stands twice.
    Twice,
    /// The name that goes would be left over.
    LeftOver,
    /// The name that goes is a plain number and the one that comes is not, or the other way round.
    PlainNumber,
    /// The name is raised to a power where it stands.
    Raised,
    /// In an upper bound, the name tells a greatest value.
    Greatest,
    /// In an upper bound, the name tells a least value.
    Least,
    /// The name tells a bound, and is one; less than none where it tells a bound and has one.
    Bound,
    /// In a comparison, a result that nothing uses comes in.
    UnusedInCheck,
    /// How little the mended products look like those of the trade, from -0.6 to 0.5.
    Unlike,
    /// A line that uses the value would have an error.
    BreaksUser,
    /// The mended line is a standard result of the catalogue.
    Standard,
    /// A lint would speak of the mended line.
    Warned,
    /// The mended line is like another line of the file, but for the places in a series.
    LikeLine,
    /// The mended line says what another line says already.
    SameAsLine,
    /// The share of the mended line's terms that stand on other lines, but for the places in a series.
    LikeTerms,
    /// How many powers of ten the value is from what is usual in the unit that it is shown in.
    Magnitude,
}

/// What each reason counts in the cost of a repair, and in how likely a slip is as the line tells it by
/// itself; in the order of [`Reason`].
const COSTS: &[(Reason, f64, f64)] = &[
    (Reason::NameAny, 0.0, 1.45),
    (Reason::FactorAny, 0.0, 1.65),
    (Reason::NameOfSeries, 1.22, 0.0),
    (Reason::NameAlike, 1.73, 0.0),
    (Reason::NameOther, 1.5, 0.0),
    (Reason::Member, 1.84, 0.0),
    (Reason::SumOfSeries, 0.86, 0.0),
    (Reason::PowerChanged, 0.77, 1.1),
    (Reason::PowerAdded, 0.87, 1.3),
    (Reason::PowerSteps, 1.09, 0.4),
    (Reason::PowerHigh, 0.6, 0.6),
    (Reason::RarelyRaised, 1.08, 1.0),
    (Reason::LeftOut, 2.01, 1.8),
    (Reason::LeftOutTwice, 0.28, 0.9),
    (Reason::OtherSide, 1.11, 1.4),
    (Reason::OtherSideMore, 0.0, 0.2),
    (Reason::OtherSideCount, -0.59, -0.25),
    (Reason::OtherSideUp, 0.36, 0.1),
    (Reason::TurnedOver, 0.35, 1.2),
    (Reason::TurnedOverApart, 0.33, 0.1),
    (Reason::Exchanged, 1.12, 2.0),
    (Reason::RootOfGroup, 1.13, 1.2),
    (Reason::RootOfProduct, 1.8, 1.6),
    (Reason::RootOfSum, 0.52, 1.4),
    (Reason::RootOfFactors, 1.9, 2.2),
    (Reason::RootLeftOut, 2.0, 2.0),
    (Reason::FactorAbove, 1.62, 0.0),
    (Reason::FactorBelow, 1.65, 0.0),
    (Reason::FactorRaised, 0.44, 0.0),
    (Reason::FactorPair, 3.09, 0.0),
    (Reason::ByWeights, 1.86, 0.0),
    (Reason::ParenthesesPutIn, 1.9, 0.0),
    (Reason::ParenthesesLeftOut, 1.3, 0.0),
    (Reason::ParenthesesMoved, 1.4, 0.0),
    (Reason::ParenthesesBeforeStroke, -0.6, 0.0),
    (Reason::UnitChanged, 1.16, 0.0),
    (Reason::UnitStrange, 0.2, 0.0),
    (Reason::UnitInProduct, 0.86, 0.0),
    (Reason::UnitAdded, 0.9, 0.0),
    (Reason::UnitLeftOut, 1.6, 1.2),
    (Reason::SumToRatio, 1.33, 0.0),
    (Reason::SumToProduct, 2.2, 0.0),
    (Reason::PartOfSpan, 1.0, 0.0),
    (Reason::Weight, 1.49, 0.0),
    (Reason::Brackets, 1.57, 0.0),
    (Reason::BracketsFitName, -1.7, 0.0),
    (Reason::BracketsAgainstName, 0.96, 0.0),
    (Reason::BracketsUnnamed, 1.2, 0.0),
    (Reason::BracketsFitUsers, 1.2, 0.0),
    (Reason::BracketsAgainstUsers, -1.92, 0.0),
    (Reason::NoValue, 0.4, 0.0),
    (Reason::Below, 1.0, 0.0),
    (Reason::GivenUnused, -1.22, 0.0),
    (Reason::ResultUnused, -0.09, 0.0),
    (Reason::ResultUnusedNear, -0.43, 0.0),
    (Reason::ResultUsed, 0.1, 0.0),
    (Reason::Readers, 0.04, 0.0),
    (Reason::InSeries, -0.41, 0.0),
    (Reason::Together, -0.55, 0.0),
    (Reason::Again, 0.69, 0.0),
    (Reason::Twice, 0.37, -0.2),
    (Reason::LeftOver, 0.65, 0.0),
    (Reason::PlainNumber, 0.1, 0.0),
    (Reason::Raised, 0.18, 0.2),
    (Reason::Greatest, -0.17, 0.0),
    (Reason::Least, 0.64, 0.0),
    (Reason::Bound, -0.53, 0.0),
    (Reason::UnusedInCheck, -0.66, 0.0),
    (Reason::Unlike, 2.01, 1.2),
    (Reason::BreaksUser, 0.8, 0.0),
    (Reason::Standard, -0.53, 0.0),
    (Reason::Warned, 0.42, 0.0),
    (Reason::LikeLine, 0.15, 0.0),
    (Reason::SameAsLine, 0.89, 0.0),
    (Reason::LikeTerms, -0.4, 0.0),
    (Reason::Magnitude, 0.3, 0.0),
];

/// The reasons of one repair.
#[derive(Debug, Clone, Default)]
pub struct Reasons(Vec<(Reason, f64)>);

impl Reasons {
    pub(super) fn of(reason: Reason) -> Reasons {
        Reasons::default().and(reason, 1.0)
    }

    /// With so much of one more.
    #[must_use]
    pub(super) fn and(mut self, reason: Reason, much: f64) -> Reasons {
        if much != 0.0 {
            self.0.push((reason, much));
        }
        self
    }

    #[must_use]
    pub(super) fn and_if(self, holds: bool, reason: Reason) -> Reasons {
        if holds { self.and(reason, 1.0) } else { self }
    }

    #[must_use]
    pub(super) fn with(mut self, others: &Reasons) -> Reasons {
        self.0.extend_from_slice(&others.0);
        self
    }

    /// Each reason with how much of it there is.
    pub fn iter(&self) -> impl Iterator<Item = (Reason, f64)> + '_ {
        self.0.iter().copied()
    }

    /// The cost of a repair: the less the likelier.
    pub fn cost(&self) -> f64 {
        self.sum(|(_, repair, _)| *repair)
    }

    /// The cost of a slip that a line tells by itself.
    pub(super) fn cost_of_slip(&self) -> f64 {
        self.sum(|(_, _, slip)| *slip)
    }

    fn sum(&self, count: impl Fn(&(Reason, f64, f64)) -> f64) -> f64 {
        let cost = |(reason, much)| COSTS.get(reason as usize).map_or(0.0, &count) * much;
        self.iter().map(cost).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_reason_has_its_cost() {
        for (index, (reason, ..)) in COSTS.iter().enumerate() {
            assert_eq!(*reason as usize, index);
        }
        assert_eq!(COSTS.len(), Reason::Magnitude as usize + 1);
    }
}
