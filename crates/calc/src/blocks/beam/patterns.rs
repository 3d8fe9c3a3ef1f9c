//! Loads on any spans: every pattern of loaded spans that can govern is a combination of its own.

use std::collections::BTreeMap;

use haunch_mechanics::beam::{Response, unfavourable_patterns};
use smol_str::SmolStr;

use super::combinations::StatedCombination;
use super::loads::CaseLoads;
use super::sideways::BothPlanes;
use super::{Combination, LoadCase};

/// The loads on any spans of a case, by the number of their span from 1.
pub(super) fn by_span(case: &CaseLoads) -> Vec<(usize, CaseLoads)> {
    let mut spans: BTreeMap<usize, CaseLoads> = BTreeMap::new();
    for (line, actions) in &case.on_any_spans {
        for (index, action) in actions.iter().enumerate() {
            let loads = spans.entry(index + 1).or_default();
            loads.actions.push(*action);
            loads.lines.push(*line);
        }
    }
    spans.into_iter().collect()
}

/// A stated combination as it is; with loads on any spans one for each pattern that can govern.
/// None where a sum is no number.
pub(super) fn combinations(
    stated: &StatedCombination,
    cases: &[LoadCase],
    unloaded: &BothPlanes,
) -> Option<Vec<Combination>> {
    let mut always = Vec::new();
    let mut free = Vec::new();
    for (index, case) in cases.iter().enumerate() {
        if let Some(&factor) = stated.factors.get(&case.name) {
            match case.span {
                None => always.push((index, factor)),
                Some(_) => free.push((index, factor)),
            }
        }
    }
    let combination = |factors: Vec<(usize, f64)>, pattern: Option<SmolStr>| {
        let response = superposed(cases, &factors, &unloaded.upright, |c| Some(&c.response))?;
        let sideways = match &unloaded.sideways {
            Some(unloaded) => Some(superposed(cases, &factors, unloaded, |c| {
                c.sideways.as_ref()
            })?),
            None => None,
        };
        Some(Combination {
            name: stated.name.clone(),
            line: stated.line,
            pattern,
            factors,
            wheels: None,
            response,
            sideways,
        })
    };
    if free.is_empty() {
        return Some(vec![combination(always, None)?]);
    }
    let terms: Vec<(f64, &Response)> = free
        .iter()
        .filter_map(|(index, factor)| Some((*factor, &cases.get(*index)?.response)))
        .collect();
    unfavourable_patterns(&terms)
        .into_iter()
        .map(|pattern| {
            let acting = free.iter().zip(&pattern).filter(|(_, acts)| **acts);
            let acting: Vec<(usize, f64)> = acting.map(|(term, _)| *term).collect();
            let words = words(cases, &free, &acting);
            let factors = always.iter().copied().chain(acting).collect();
            combination(factors, Some(words))
        })
        .collect()
}

/// `live on spans 1, 3`
fn words(cases: &[LoadCase], free: &[(usize, f64)], acting: &[(usize, f64)]) -> SmolStr {
    let mut spans: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    for (index, _) in free {
        if let Some(case) = cases.get(*index) {
            spans.entry(&case.name).or_default();
        }
    }
    for (index, _) in acting {
        if let Some(case) = cases.get(*index)
            && let Some(span) = case.span
        {
            let name: &str = &case.name;
            spans.entry(name).or_default().push(span.to_string());
        }
    }
    let words: Vec<String> = spans
        .into_iter()
        .map(|(name, spans)| match spans.as_slice() {
            [] => format!("{name} on no span"),
            [only] => format!("{name} on span {only}"),
            _ => format!("{name} on spans {}", spans.join(", ")),
        })
        .collect();
    words.join(" and ").into()
}

/// The sum of cases times factors; a beam without any case is unloaded.
fn superposed(
    cases: &[LoadCase],
    factors: &[(usize, f64)],
    unloaded: &Response,
    of: impl Fn(&LoadCase) -> Option<&Response>,
) -> Option<Response> {
    let terms: Vec<(f64, &Response)> = factors
        .iter()
        .filter_map(|(case, factor)| Some((*factor, of(cases.get(*case)?)?)))
        .collect();
    if terms.is_empty() {
        return Some(unloaded.clone());
    }
    Response::combine(&terms)
}
