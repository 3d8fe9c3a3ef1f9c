//! How long the search for repairs takes: one mistaken line with 100 and with 1,000 names around it. The search
//! is made when somebody asks for it, never while typing. Run with `cargo bench -p haunch-calc --bench repairs`.

use std::hint::black_box;
use std::time::{Duration, Instant};

use haunch_calc::{Change, Host};

/// A mistaken line in the middle of `names` values of all the kinds that a calculation of sections has.
fn file(names: usize, mistaken: &str) -> String {
    let mut text = String::from("results in mm, kN, MPa\nM = 12 kN*m\n");
    let group = |n: usize| {
        format!(
            "b{n} = {} mm\nt{n} = 10 mm\nA{n} = b{n}*t{n} [mm^2]\nI{n} = b{n}*t{n}^3/12 [mm^4]\n\
             S{n} = A{n}*t{n} [mm^3]\n",
            100 + n % 50
        )
    };
    let groups = names / 5;
    text.extend((0..groups / 2).map(group));
    text += mistaken;
    text.push('\n');
    text.extend((groups / 2..groups).map(group));
    text
}

fn median(mut times: Vec<Duration>) -> Duration {
    times.sort();
    times[times.len() / 2]
}

fn main() {
    let mistaken = [
        "x = (A1*t1 + A2*t2)/(t1 + t2) [mm]",
        "x = M/I1 [MPa]",
        "x = M*b1*I2/I1 [mm]",
        "x = b1*t1^3/12 + A1*b1 + b2*t2^3/12 + A2*t2^2 [mm^4]",
    ];
    println!("{:>6} {:>12}  line", "names", "repairs");
    for names in [100, 1_000] {
        for line in mistaken {
            let mut host = Host::new();
            let path = "bench.haunch".to_owned();
            let text = file(names, line);
            host.apply(Change::SetText { path, text });
            let snapshot = host.snapshot();
            let file = snapshot.file("bench.haunch").expect("the file was set");
            let findings = snapshot.findings(file);
            let finding = findings
                .iter()
                .find(|finding| finding.code.name == "unit-mismatch")
                .expect("the line is mistaken");
            assert!(!snapshot.repairs(finding).is_empty(), "{line}");
            let times = (0..50)
                .map(|_| {
                    let start = Instant::now();
                    black_box(snapshot.repairs(finding));
                    start.elapsed()
                })
                .collect();
            println!("{names:>6} {:>12.1?}  {line}", median(times));
        }
    }
}
