//! Equations between dimensions, solved exactly: the exponents of length, mass, time and temperature are
//! linear in those of the unknown dimensions, with rational coefficients (Gauss–Jordan elimination).

use haunch_quantity::{Dimension, Rational};

use super::form::{Form, Unknown};

/// How many equations are solved together; with more, nothing is told.
pub(crate) const MOST_EQUATIONS: usize = 128;

/// Which equations something follows from, a bit for each.
type Sources = u128;

/// One unknown in terms of those that stay free: `pivot · row = 1`.
#[derive(Debug, Clone)]
struct Row {
    pivot: Unknown,
    /// All of it but the pivot.
    rest: Form,
    from: Sources,
}

/// What equations come to.
#[derive(Debug, Clone, Default)]
pub(crate) struct Solution {
    rows: Vec<Row>,
    /// The equations of each contradiction.
    conflicts: Vec<Sources>,
}

/// Solves equations, each a form that has to be a plain number. Equations without an unknown are left
/// aside. `None` where there are too many, or an exponent does not fit.
pub(crate) fn solve<'a>(equations: impl IntoIterator<Item = &'a Form>) -> Option<Solution> {
    let mut solution = Solution::default();
    for (index, equation) in equations.into_iter().enumerate() {
        if index >= MOST_EQUATIONS {
            return None;
        }
        solution.add(equation, 1 << index)?;
    }
    Some(solution)
}

impl Solution {
    fn add(&mut self, equation: &Form, from: Sources) -> Option<()> {
        let (left, used) = self.reduce(equation)?;
        let from = from | used;
        let Some(&(pivot, power)) = left.powers.first() else {
            if !left.known.is_ratio() {
                self.conflicts.push(from);
            }
            return Some(());
        };
        let scaled = left.power(Rational::ONE.checked_divide(power)?)?;
        let rest = scaled.divide(&Form::unknown(pivot))?;
        for row in &mut self.rows {
            let power = row.rest.power_of(pivot);
            if !power.is_zero() {
                row.rest = without(&row.rest, pivot, power, &rest)?;
                row.from |= from;
            }
        }
        self.rows.push(Row { pivot, rest, from });
        Some(())
    }

    /// A form in terms of the unknowns that stay free, and the equations that this takes.
    fn reduce(&self, form: &Form) -> Option<(Form, Sources)> {
        let mut reduced = form.clone();
        let mut from = 0;
        for row in &self.rows {
            let power = reduced.power_of(row.pivot);
            if !power.is_zero() {
                reduced = without(&reduced, row.pivot, power, &row.rest)?;
                from |= row.from;
            }
        }
        Some((reduced, from))
    }

    fn is_disputed(&self, from: Sources) -> bool {
        self.conflicts.iter().any(|conflict| conflict & from != 0)
    }

    /// The dimension of a form, where the equations tell it and do not contradict each other about it.
    pub(crate) fn dimension(&self, form: &Form) -> Option<Dimension> {
        let (reduced, from) = self.reduce(form)?;
        (!reduced.is_open() && !self.is_disputed(from)).then_some(reduced.known)
    }

    /// A product of powers of an unknown and others that has a known dimension, where no equation tells
    /// the unknown by itself; the powers are whole numbers without a common factor, that of the unknown
    /// positive.
    pub(crate) fn relation(&self, unknown: Unknown) -> Option<(Form, Dimension)> {
        let whole = |row: &Row| Some((row.rest.multiply(&Form::unknown(row.pivot))?, row.from));
        let rows = self.rows.iter().filter_map(whole);
        let mut holding = rows.filter(|(row, from)| {
            row.powers.len() > 1 && !row.power_of(unknown).is_zero() && !self.is_disputed(*from)
        });
        let (row, _) = holding.next()?;
        let mut scale = 1_i32;
        for (_, power) in &row.powers {
            let common = greatest_common_divisor(scale, power.denominator());
            scale = scale.checked_mul(power.denominator() / common)?;
        }
        let mut shared = 0;
        for (_, power) in &row.powers {
            let whole = power.checked_multiply(Rational::from_integer(scale))?;
            shared = greatest_common_divisor(shared, whole.as_integer()?.checked_abs()?);
        }
        if row.power_of(unknown).is_negative() {
            shared = -shared;
        }
        let scaled = row.power(Rational::new(scale, shared)?)?;
        let dimension = scaled.known.checked_power(Rational::from_integer(-1))?;
        Some((scaled, dimension))
    }

    /// Whether what an unknown is follows from equations that contradict each other.
    pub(crate) fn is_contradicted(&self, unknown: Unknown) -> bool {
        self.rows.iter().any(|row| {
            let holds = row.pivot == unknown || !row.rest.power_of(unknown).is_zero();
            holds && self.is_disputed(row.from)
        })
    }

    /// The equations that contradict each other, of the first contradiction.
    pub(crate) fn conflict(&self) -> Option<Vec<usize>> {
        self.conflicts().next()
    }

    /// The equations of each contradiction.
    pub(crate) fn conflicts(&self) -> impl Iterator<Item = Vec<usize>> {
        let equations = |from: &Sources| {
            let is_in = |index: &usize| from >> index & 1 == 1;
            (0..MOST_EQUATIONS).filter(is_in).collect()
        };
        self.conflicts.iter().map(equations)
    }
}

/// A form with the pivot of a row replaced by what it is.
fn without(form: &Form, pivot: Unknown, power: Rational, rest: &Form) -> Option<Form> {
    let whole = rest.multiply(&Form::unknown(pivot))?;
    form.divide(&whole.power(power)?)
}

fn greatest_common_divisor(a: i32, b: i32) -> i32 {
    let (mut a, mut b) = (a, b);
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// One equation in two unknowns: their powers, and the exponent of length that is known.
    type Row = (i32, i32, i32);

    fn form(&(x, y, length): &Row) -> Form {
        let powers = [(0, x), (1, y)];
        Form {
            known: Dimension::from_integers(length, 0, 0, 0),
            powers: powers
                .into_iter()
                .filter(|(_, power)| *power != 0)
                .map(|(unknown, power)| (Unknown(unknown), Rational::from_integer(power)))
                .collect(),
        }
    }

    /// Every pair of exponents, in twelfths from -6 to 6, that satisfies all equations: found by trying
    /// them all, in whole numbers.
    fn by_trying(rows: &[Row]) -> Vec<(i32, i32)> {
        let holds = |x: i32, y: i32| {
            rows.iter()
                .all(|(a, b, known)| a * x + b * y + 12 * known == 0)
        };
        (-72..=72)
            .flat_map(|x| (-72..=72).map(move |y| (x, y)))
            .filter(|(x, y)| holds(*x, *y))
            .collect()
    }

    proptest! {
        #[test]
        fn what_is_told_is_what_trying_finds(
            rows in prop::collection::vec((-2..=2, -2..=2, -3..=3), 1..4)
        ) {
            // Known parts are compared elsewhere.
            let rows: Vec<Row> = rows.into_iter().filter(|(a, b, _)| (*a, *b) != (0, 0)).collect();
            let equations: Vec<Form> = rows.iter().map(form).collect();
            let solution = solve(&equations).expect("small numbers fit");
            let found = by_trying(&rows);
            if solution.conflict().is_some() {
                prop_assert_eq!(found, []);
                return Ok(());
            }
            for (unknown, pick) in [(0, (|p| p.0) as fn(&(i32, i32)) -> i32), (1, |p| p.1)] {
                let mut values: Vec<i32> = found.iter().map(pick).collect();
                values.dedup();
                values.sort_unstable();
                values.dedup();
                match solution.dimension(&Form::unknown(Unknown(unknown))) {
                    Some(dimension) => {
                        // With powers up to 2 a single solution is in eighths at finest.
                        let twelfths = dimension.length().checked_multiply(Rational::from_integer(12));
                        if let Some(value) = twelfths.and_then(Rational::as_integer)
                            && value.abs() <= 72
                            && !found.is_empty()
                        {
                            prop_assert_eq!(values, [value]);
                        }
                    }
                    None => prop_assert!(values.len() > 1, "{:?}", values),
                }
            }
        }
    }

    #[test]
    fn a_relation_in_whole_powers() {
        // sqrt(x)/y^(3/2) is an area: x/y^3 is m⁴.
        let equation = Form {
            known: Dimension::from_integers(-2, 0, 0, 0),
            powers: vec![
                (Unknown(0), Rational::HALF),
                (Unknown(1), Rational::new(-3, 2).expect("a fraction")),
            ],
        };
        let solution = solve([&equation]).expect("it fits");
        let (product, dimension) = solution.relation(Unknown(0)).expect("it is told");
        let powers = [(Unknown(0), 1), (Unknown(1), -3)]
            .map(|(unknown, power)| (unknown, Rational::from_integer(power)));
        assert_eq!(product.powers, powers);
        assert_eq!(dimension, Dimension::SECOND_MOMENT_OF_AREA);
        let (product, dimension) = solution.relation(Unknown(1)).expect("it is told");
        assert_eq!(product.power_of(Unknown(1)), Rational::from_integer(3));
        assert_eq!(dimension.length(), Rational::from_integer(-4));
    }

    #[test]
    fn what_does_not_fit_tells_nothing() {
        let huge = Form {
            known: Dimension::LENGTH,
            powers: vec![(Unknown(0), Rational::from_integer(i32::MAX))],
        };
        let tiny = Form {
            known: Dimension::LENGTH,
            powers: vec![
                (Unknown(0), Rational::new(1, i32::MAX).expect("a fraction")),
                (Unknown(1), Rational::ONE),
            ],
        };
        assert!(solve([&huge, &tiny]).is_none());
        let many = vec![Form::unknown(Unknown(0)); MOST_EQUATIONS + 1];
        assert!(solve(&many).is_none());
    }
}
