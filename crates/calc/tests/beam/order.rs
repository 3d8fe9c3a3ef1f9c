//! The order of lines never matters, not even in the last bit.

use crate::reading::{Read, file};
use proptest::prelude::*;

const LINES: [&str; 12] = [
    "    spans = 3.1 m, 4.3 m, 2.7 m",
    "    support pin at start as north",
    "    support roller at 3.1 m",
    "    support spring 4100 kN/m at 7.4 m",
    "    support fixed at end as south",
    "    load dead self weight",
    "    load dead 0.37 kN/m from 0.7 m to 6.1 m",
    "    load live 3.3 kN at 1.1 m",
    "    load live 1.7 kN/m on span 2",
    "    load wind 0.3 kN*m clockwise at 5.2 m",
    "    combination strength = 1.35*dead + 1.5*live + 0.9*wind",
    "    combination service = wind*0.3 + live + dead",
];

const LIMITS: &str = "    limit tension <= 200 MPa\n    limit deflection <= span/300\n";

fn read(lines: &[&str], blocks: bool) -> Read {
    let beam = format!("beam b of bar\n{}\n{LIMITS}", lines.join("\n"));
    let search = "n = largest live of b\nst = b.stress(low)\nmo = b.strength.M(4.4 m)\n";
    file(&if blocks {
        format!("{search}{beam}{}", crate::reading::BAR)
    } else {
        format!("{}{beam}{search}", crate::reading::BAR)
    })
}

/// Everything of the checks but the identity of their lines; `{:?}` writes every bit of a number.
fn checks(read: &Read) -> Vec<String> {
    let of = |check: &haunch_calc::Check| {
        let (used, holds) = (check.utilisation, check.holds);
        format!(
            "{} {used:?} {holds:?} {:?} {}",
            check.name, check.place, check.text
        )
    };
    read.checks.iter().map(of).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn bits_are_equal(order in Just(LINES.to_vec()).prop_shuffle(), blocks: bool) {
        let first = read(&LINES, false);
        prop_assert_eq!(&first.findings, &Vec::<String>::new());
        prop_assert!(first.values.contains_key("n"));
        let bits = |read: &Read| -> Vec<(String, u64)> {
            read.values.iter().map(|(name, value)| (name.clone(), value.to_bits())).collect()
        };
        let other = read(&order, blocks);
        prop_assert_eq!(bits(&first), bits(&other));
        prop_assert_eq!(checks(&first), checks(&other));
        prop_assert_eq!(&first.findings, &other.findings);
    }
}
