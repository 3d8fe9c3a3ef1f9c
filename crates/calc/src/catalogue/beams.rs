//! Moments, shear forces and deflections of single-span beams.

use super::{Entry, Shape, entry};

const TABLE: &str = "AISC Steel Construction Manual, table 3-23, from memory";
const SLOPES: &str = "Gere & Goodno, Mechanics of Materials, 7th edition, appendix G, from memory";
const STIFFNESS: &str =
    "slope-deflection equations; Hibbeler, Structural Analysis, chapter 11, from memory";
const ROARK: &str =
    "Young & Budynas, Roark's Formulas for Stress and Strain, 7th edition, table 8.1, from memory";
const FREQUENCY: &str =
    "Young & Budynas, Roark's Formulas for Stress and Strain, 7th edition, table 16.1, from memory";

#[rustfmt::skip]
pub(super) static ENTRIES: &[Entry] = &[
    // simple beam
    entry(Shape::Simple, "moment at the middle of a simple beam under a uniform load", &["M = w*L^2/8"], TABLE),
    entry(Shape::Simple, "reaction of a simple beam under a uniform load", &["R_1 = w*L/2"], TABLE),
    entry(Shape::Simple, "deflection at the middle of a simple beam under a uniform load", &["v = 5*w*L^4/(384*E*I)"], TABLE),
    entry(Shape::Simple, "deflection of a simple beam under a uniform load, from its largest moment", &["v = 5*M*L^2/(48*E*I)"], TABLE),
    entry(Shape::Simple, "slope at the end of a simple beam under a uniform load", &["theta = w*L^3/(24*E*I)"], SLOPES),
    entry(Shape::Simple, "moment of a simple beam under a uniform load at a distance from its end", &["M = w*x*(L - x)/2"], TABLE),
    entry(Shape::Simple, "deflection of a simple beam under a uniform load at a distance from its end", &["v = w*x*(L^3 - 2*L*x^2 + x^3)/(24*E*I)"], TABLE),
    entry(Shape::Simple, "moment of a simple beam under a load at its middle", &["M = P*L/4"], TABLE),
    entry(Shape::Simple, "reaction of a simple beam under a load at its middle", &["R_1 = P/2"], TABLE),
    entry(Shape::Simple, "deflection of a simple beam under a load at its middle", &["v = P*L^3/(48*E*I)"], TABLE),
    entry(Shape::Simple, "deflection of a simple beam under a load at its middle, from its largest moment", &["v = M*L^2/(12*E*I)"], TABLE),
    entry(Shape::Simple, "slope at the end of a simple beam under a load at its middle", &["theta = P*L^2/(16*E*I)"], SLOPES),
    entry(Shape::Simple, "moment of a simple beam under a load anywhere, at the load", &["M = P*a*b/L"], TABLE),
    entry(Shape::Simple, "reaction of a simple beam under a load anywhere", &["R_1 = P*b/L"], TABLE),
    entry(Shape::Simple, "deflection of a simple beam under a load anywhere, at the load", &["v = P*a^2*b^2/(3*E*I*L)"], TABLE),
    entry(Shape::Simple, "largest deflection of a simple beam under a load anywhere, b being the shorter distance", &["v = P*b*(L^2 - b^2)^(3/2)/(9*sqrt(3)*E*I*L)"], TABLE),
    entry(Shape::Simple, "deflection at the middle of a simple beam under two equal loads at one distance from its ends", &["v = P*a*(3*L^2 - 4*a^2)/(24*E*I)"], TABLE),
    entry(Shape::Simple, "moment of a simple beam under equal loads at its third points", &["M = P*L/3"], TABLE),
    entry(Shape::Simple, "deflection of a simple beam under equal loads at its third points", &["v = 23*P*L^3/(648*E*I)"], TABLE),
    entry(Shape::Simple, "largest moment of a simple beam under a load that grows from nothing at one end", &["M = w*L^2/(9*sqrt(3))"], TABLE),
    entry(Shape::Simple, "larger reaction of a simple beam under a load that grows from nothing at one end", &["R_1 = w*L/3"], TABLE),
    entry(Shape::Simple, "smaller reaction of a simple beam under a load that grows from nothing at one end", &["R_1 = w*L/6"], TABLE),
    entry(Shape::Simple, "largest deflection of a simple beam under a load that grows from nothing at one end", &["v = 0.006522*w*L^4/(E*I)"], TABLE),
    entry(Shape::Simple, "moment of a simple beam under a load that grows from its ends to its middle", &["M = w*L^2/12"], TABLE),
    entry(Shape::Simple, "reaction of a simple beam under a load that grows from its ends to its middle", &["R_1 = w*L/4"], TABLE),
    entry(Shape::Simple, "deflection of a simple beam under a load that grows from its ends to its middle", &["v = w*L^4/(120*E*I)"], TABLE),
    entry(Shape::Simple, "deflection at the middle of a simple beam under a moment at its end", &["v = M*L^2/(16*E*I)"], SLOPES),
    entry(Shape::Simple, "largest deflection of a simple beam under a moment at its end", &["v = M*L^2/(9*sqrt(3)*E*I)"], SLOPES),
    entry(Shape::Simple, "slope of a simple beam at the end where a moment acts", &["theta = M*L/(3*E*I)"], SLOPES),
    entry(Shape::Simple, "slope of a simple beam at the end away from a moment at the other", &["theta = M*L/(6*E*I)"], SLOPES),
    entry(Shape::Simple, "deflection of a beam under a uniform moment, at the middle", &["v = M*L^2/(8*E*I)"], SLOPES),
    // cantilever
    entry(Shape::Cantilever, "moment of a force at a distance, as at the fixed end of a cantilever with a load at its free end", &["M = P*L"], TABLE),
    entry(Shape::Cantilever, "deflection at the free end of a cantilever with a load there", &["v = P*L^3/(3*E*I)"], TABLE),
    entry(Shape::Cantilever, "slope at the free end of a cantilever with a load there", &["theta = P*L^2/(2*E*I)"], SLOPES),
    entry(Shape::Cantilever, "moment at the fixed end of a cantilever under a uniform load", &["M = w*L^2/2"], TABLE),
    entry(Shape::Cantilever, "whole of a uniform load, as the reaction of a cantilever", &["R_1 = w*L"], TABLE),
    entry(Shape::Cantilever, "deflection at the free end of a cantilever under a uniform load", &["v = w*L^4/(8*E*I)"], TABLE),
    entry(Shape::Cantilever, "slope at the free end of a cantilever under a uniform load", &["theta = w*L^3/(6*E*I)"], SLOPES),
    entry(Shape::Cantilever, "deflection at the free end of a cantilever with a moment there", &["v = M*L^2/(2*E*I)"], SLOPES),
    entry(Shape::Cantilever, "slope at the free end of a cantilever with a moment there", &["theta = M*L/(E*I)"], SLOPES),
    entry(Shape::Cantilever, "moment at the fixed end of a cantilever under a load that falls to nothing at its free end", &["M = w*L^2/6"], TABLE),
    entry(Shape::Cantilever, "deflection at the free end of a cantilever under a load that falls to nothing there", &["v = w*L^4/(30*E*I)"], SLOPES),
    entry(Shape::Cantilever, "slope at the free end of a cantilever under a load that falls to nothing there", &["theta = w*L^3/(24*E*I)"], SLOPES),
    entry(Shape::Cantilever, "moment at the fixed end of a cantilever under a load that grows from nothing there", &["M = w*L^2/3"], SLOPES),
    entry(Shape::Cantilever, "deflection at the free end of a cantilever under a load that grows from nothing at its fixed end", &["v = 11*w*L^4/(120*E*I)"], SLOPES),
    entry(Shape::Cantilever, "deflection at the free end of a cantilever with a load at a distance from its fixed end", &["v = P*a^2*(3*L - a)/(6*E*I)"], TABLE),
    entry(Shape::Overhang, "deflection at the end of an overhang with a load there", &["v = P*a^2*(L + a)/(3*E*I)"], TABLE),
    // both ends fixed
    entry(Shape::Fixed, "moment at the ends of a beam fixed at both, under a uniform load", &["M = w*L^2/12"], TABLE),
    entry(Shape::Fixed, "moment at the middle of a beam fixed at both ends, under a uniform load", &["M = w*L^2/24"], TABLE),
    entry(Shape::Fixed, "deflection at the middle of a beam fixed at both ends, under a uniform load", &["v = w*L^4/(384*E*I)"], TABLE),
    entry(Shape::Fixed, "moment at the ends and the middle of a beam fixed at both ends, under a load at its middle", &["M = P*L/8"], TABLE),
    entry(Shape::Fixed, "deflection of a beam fixed at both ends, under a load at its middle", &["v = P*L^3/(192*E*I)"], TABLE),
    entry(Shape::Fixed, "moment at an end of a beam fixed at both, under a load anywhere", &["M = P*a*b^2/L^2"], TABLE),
    entry(Shape::Fixed, "moment at the heavy end of a beam fixed at both, under a load that grows from nothing", &["M = w*L^2/20"], ROARK),
    entry(Shape::Fixed, "moment at the light end of a beam fixed at both, under a load that grows from nothing", &["M = w*L^2/30"], ROARK),
    entry(Shape::Fixed, "moment at the ends of a beam fixed at both, where one settles", &["M = 6*E*I*v/L^2"], STIFFNESS),
    // one end fixed, the other on a support
    entry(Shape::Propped, "moment at the fixed end of a propped cantilever under a uniform load, and over the middle support of two equal spans", &["M = w*L^2/8"], TABLE),
    entry(Shape::Propped, "largest moment in the span of a propped cantilever under a uniform load", &["M = 9*w*L^2/128"], TABLE),
    entry(Shape::Propped, "reaction at the prop of a propped cantilever under a uniform load", &["R_1 = 3*w*L/8"], TABLE),
    entry(Shape::Propped, "reaction at the fixed end of a propped cantilever under a uniform load", &["R_1 = 5*w*L/8"], TABLE),
    entry(Shape::Propped, "reaction at the middle support of two equal spans under a uniform load", &["R_1 = 5*w*L/4"], TABLE),
    entry(Shape::Propped, "largest deflection of a propped cantilever under a uniform load", &["v = w*L^4/(184.6*E*I)"], TABLE),
    entry(Shape::Propped, "moment at the fixed end of a propped cantilever under a load at its middle", &["M = 3*P*L/16"], TABLE),
    entry(Shape::Propped, "moment at the middle of a propped cantilever under a load there", &["M = 5*P*L/32"], TABLE),
    entry(Shape::Propped, "reaction at the prop of a propped cantilever under a load at its middle", &["R_1 = 5*P/16"], TABLE),
    entry(Shape::Propped, "reaction at the fixed end of a propped cantilever under a load at its middle", &["R_1 = 11*P/16"], TABLE),
    entry(Shape::Propped, "deflection at the middle of a propped cantilever under a load there", &["v = 7*P*L^3/(768*E*I)"], TABLE),
    entry(Shape::Propped, "largest deflection of a propped cantilever under a load at its middle", &["v = P*L^3/(48*sqrt(5)*E*I)"], TABLE),
    entry(Shape::Propped, "moment at the fixed end of a propped cantilever under a load that falls to nothing at the prop", &["M = w*L^2/15"], ROARK),
    entry(Shape::Propped, "moment at the fixed end of a propped cantilever whose prop settles", &["M = 3*E*I*v/L^2"], STIFFNESS),
    // stiffness and frequency
    entry(Shape::Simple, "stiffness of a simple beam for a load at its middle", &["k = 48*E*I/L^3"], TABLE),
    entry(Shape::Cantilever, "stiffness of a cantilever for a load at its free end", &["k = 3*E*I/L^3"], TABLE),
    entry(Shape::Fixed, "stiffness of a beam fixed at both ends for a load at its middle", &["k = 192*E*I/L^3"], TABLE),
    entry(Shape::Fixed, "stiffness of a column fixed at both ends for a push sideways at one", &["k = 12*E*I/L^3"], STIFFNESS),
    entry(Shape::Simple, "lowest frequency of a simple beam with a uniform mass", &["f_1 = pi/2*sqrt(E*I/(mu*L^4))"], FREQUENCY),
];
