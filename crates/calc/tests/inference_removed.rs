//! Formulas that are dimensionally right, with one definition taken away: what is told of the name is what
//! it was.

mod support;

use haunch_calc::Needs;
use haunch_quantity::Dimension;
use support::open;

/// A generator of the same numbers on every run (a linear congruence modulo 2^64, Knuth's multiplier).
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, count: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % count
    }
}

/// Exponents of length, mass and time.
type Exponents = [i32; 3];

fn unit([length, mass, time]: Exponents) -> String {
    let powers = [("m", length), ("kg", mass), ("s", time)];
    let words: Vec<String> = powers
        .into_iter()
        .filter(|(_, power)| *power != 0)
        .map(|(word, power)| format!("{word}^{power}"))
        .collect();
    words.join("*")
}

/// Names with what they stand for, made as they are needed.
struct Writer {
    numbers: Numbers,
    names: Vec<Exponents>,
}

const TRADE: [Exponents; 8] = [
    [1, 0, 0],
    [2, 0, 0],
    [4, 0, 0],
    [1, 1, -2],
    [2, 1, -2],
    [-1, 1, -2],
    [0, 1, -2],
    [0, 0, 0],
];

impl Writer {
    fn name(&mut self, wanted: Exponents) -> String {
        let known = self.names.iter().position(|own| *own == wanted);
        let at = match known {
            Some(at) if self.numbers.below(2) == 0 => at,
            _ => {
                self.names.push(wanted);
                self.names.len() - 1
            }
        };
        format!("n{at}")
    }

    /// A formula of this dimension.
    fn formula(&mut self, wanted: Exponents, depth: usize) -> String {
        if depth == 0 {
            return self.name(wanted);
        }
        let depth = depth - 1;
        let factor = TRADE[self.numbers.below(TRADE.len())];
        let rest = |sign: i32| [0, 1, 2].map(|i| wanted[i] - sign * factor[i]);
        match self.numbers.below(12) {
            0 => self.name(wanted),
            1 | 2 => format!(
                "{}*{}",
                self.factor(factor, depth),
                self.factor(rest(1), depth)
            ),
            3 | 4 => format!(
                "{}/{}",
                self.factor(rest(-1), depth),
                self.factor(factor, depth)
            ),
            5 | 6 => format!(
                "({} + {})",
                self.formula(wanted, depth),
                self.formula(wanted, depth)
            ),
            7 => format!(
                "({} - 2*{})",
                self.formula(wanted, depth),
                self.factor(wanted, depth)
            ),
            8 => format!("sqrt({})", self.formula(wanted.map(|own| 2 * own), depth)),
            9 if wanted.iter().all(|own| own % 2 == 0) => {
                format!("({})^2", self.formula(wanted.map(|own| own / 2), depth))
            }
            10 => {
                let angle = self.formula([0; 3], depth);
                format!("{}*cos({angle})", self.factor(wanted, depth))
            }
            11 => format!(
                "(if {} > {} then {} else {})",
                self.formula(factor, depth),
                self.formula(factor, depth),
                self.formula(wanted, depth),
                self.formula(wanted, depth)
            ),
            _ => format!(
                "max({}, {})",
                self.formula(wanted, depth),
                self.formula(wanted, depth)
            ),
        }
    }

    fn factor(&mut self, wanted: Exponents, depth: usize) -> String {
        format!("({})", self.formula(wanted, depth))
    }
}

#[test]
fn what_is_told_is_what_was_there() {
    let mut numbers = Numbers(20_261_125);
    let (mut cases, mut determined) = (0, 0);
    for _ in 0..400 {
        let wanted = TRADE[numbers.below(TRADE.len())];
        let mut writer = Writer {
            numbers: Numbers(numbers.0),
            names: Vec::new(),
        };
        let formula = writer.formula(wanted, 3);
        numbers.0 = writer.numbers.0;
        let shown = match unit(wanted) {
            unit if unit.is_empty() => String::new(),
            unit => format!(" [{unit}]"),
        };
        let removed = numbers.below(writer.names.len());
        let mut text = String::new();
        for (at, own) in writer.names.iter().enumerate() {
            if at != removed {
                text += &format!("n{at} = 2 {}\n", unit(*own));
            }
        }
        text += &format!("y = {formula}{shown}\n");
        let (snapshot, file) = open(&text);
        let findings = snapshot.findings(file);
        let mismatch = findings.iter().find(|own| own.code.name == "unit-mismatch");
        assert!(mismatch.is_none(), "{text}{mismatch:#?}");
        let line = snapshot
            .lines(file)
            .find(|line| line.text().starts_with("y ="))
            .expect("the line is there");
        let inferred = snapshot.inferred(line.id());
        let name = format!("n{removed}");
        let needs = &inferred
            .iter()
            .find(|own| own.name == name)
            .unwrap_or_else(|| panic!("{name} is not solved for in {text}"))
            .needs;
        cases += 1;
        let [length, mass, time] = writer.names[removed];
        match needs {
            Needs::Dimension(told) => {
                determined += 1;
                assert_eq!(
                    *told,
                    Dimension::from_integers(length, mass, time, 0),
                    "{name} in\n{text}"
                );
            }
            Needs::Nothing => {}
            other => panic!("{other:?} of {name} in\n{text}"),
        }
    }
    // Of a plain number that is shown without a unit nothing may be told.
    assert!(determined * 10 >= cases * 8, "{determined} of {cases}");
    println!("told {determined} of {cases}");
}
