//! Areas, centroids, moments of area and section moduli of plane shapes.

use super::{Entry, Shape, entry};

const AREAS: &str = "Gere & Goodno, Mechanics of Materials, 7th edition, appendix D, from memory";
const MODULUS: &str =
    "Gere & Goodno, Mechanics of Materials, 7th edition, section 5.6, from memory";
const PLASTIC: &str =
    "Gere & Goodno, Mechanics of Materials, 7th edition, section 6.10, from memory";
const FIRST: &str = "Gere & Goodno, Mechanics of Materials, 7th edition, section 5.8, from memory";
const TORSION: &str =
    "Gere & Goodno, Mechanics of Materials, 7th edition, section 3.3, from memory";
const AXES: &str = "Gere & Goodno, Mechanics of Materials, 7th edition, chapter 12, from memory";
const ROARK: &str =
    "Young & Budynas, Roark's Formulas for Stress and Strain, 7th edition, table 10.1, from memory";
const THIN: &str = "Gere & Goodno, Mechanics of Materials, 7th edition, section 3.10, from memory";
const GEOMETRY: &str = "plane geometry";

#[rustfmt::skip]
pub(super) static ENTRIES: &[Entry] = &[
    // rectangle
    entry(Shape::Rectangle, "area of a rectangle", &["A = b*h"], AREAS),
    entry(Shape::Rectangle, "second moment of area of a rectangle about its centroid", &["I = b*h^3/12"], AREAS),
    entry(Shape::Rectangle, "second moment of area of a rectangle about its base", &["I = b*h^3/3"], AREAS),
    entry(Shape::Rectangle, "second moment of area of a rectangle about a parallel axis", &["I = b*h^3/12 + b*h*e^2"], AXES)
        .mistaken(&["I = b*h^3/12 + b*h^2*e"]),
    entry(Shape::Rectangle, "polar second moment of area of a rectangle about its centroid", &["I_p = b*h*(b^2 + h^2)/12"], AREAS),
    entry(Shape::Rectangle, "section modulus of a rectangle", &["W = b*h^2/6"], MODULUS),
    entry(Shape::Rectangle, "plastic section modulus of a rectangle", &["W_pl = b*h^2/4"], PLASTIC),
    entry(Shape::Rectangle, "radius of gyration of a rectangle", &["i = h/sqrt(12)"], AXES)
        .mistaken(&["i = h/12"]),
    entry(Shape::Rectangle, "largest first moment of area in a rectangle, of the half above its centroid", &["Q = b*h^2/8"], FIRST),
    entry(Shape::Rectangle, "first moment of area of a rectangle about its base", &["Q = b*h^2/2"], AXES),
    entry(Shape::Rectangle, "first moment of the area of a rectangle beyond a level", &["Q = b*(h^2/4 - y^2)/2"], FIRST),
    // square
    entry(Shape::Rectangle, "area of a square", &["A = a^2"], GEOMETRY),
    entry(Shape::Rectangle, "second moment of area of a square about any axis through its centroid", &["I = a^4/12"], AREAS),
    entry(Shape::Rectangle, "section modulus of a square", &["W = a^3/6"], MODULUS),
    entry(Shape::Rectangle, "section modulus of a square bent about its diagonal", &["W = sqrt(2)*a^3/12"], ROARK),
    entry(Shape::Rectangle, "plastic section modulus of a square", &["W_pl = a^3/4"], PLASTIC),
    // triangle
    entry(Shape::Triangle, "area of a triangle", &["A = b*h/2"], AREAS),
    entry(Shape::Triangle, "height of a triangle's centroid above its base", &["ybar = h/3"], AREAS),
    entry(Shape::Triangle, "second moment of area of a triangle about its centroid", &["I = b*h^3/36"], AREAS),
    entry(Shape::Triangle, "second moment of area of a triangle about its base", &["I = b*h^3/12"], AREAS),
    entry(Shape::Triangle, "second moment of area of a triangle about an axis through its apex", &["I = b*h^3/4"], AREAS),
    entry(Shape::Triangle, "section modulus of a triangle at its apex", &["W = b*h^2/24"], ROARK),
    entry(Shape::Rhombus, "second moment of area of a rhombus about its diagonal", &["I = b*h^3/48"], ROARK),
    entry(Shape::Rhombus, "section modulus of a rhombus bent about its diagonal", &["W = b*h^2/24"], ROARK),
    entry(Shape::Rhombus, "plastic section modulus of a rhombus bent about its diagonal", &["W_pl = b*h^2/12"], ROARK).when_said(),
    // circle
    entry(Shape::Circle, "area of a circle", &["A = pi*d^2/4", "A = pi*r^2"], AREAS),
    entry(Shape::Circle, "circumference of a circle", &["u = pi*d", "u = 2*pi*r"], GEOMETRY),
    entry(Shape::Circle, "second moment of area of a circle about its diameter", &["I = pi*d^4/64", "I = pi*r^4/4"], AREAS),
    entry(Shape::Circle, "polar second moment of area and torsion constant of a circle", &["I_p = pi*d^4/32", "I_p = pi*r^4/2"], TORSION),
    entry(Shape::Circle, "section modulus of a circle", &["W = pi*d^3/32", "W = pi*r^3/4"], MODULUS),
    entry(Shape::Circle, "section modulus in torsion of a circle", &["W_t = pi*d^3/16", "W_t = pi*r^3/2"], TORSION),
    entry(Shape::Circle, "plastic section modulus of a circle", &["W_pl = d^3/6", "W_pl = 4*r^3/3"], PLASTIC),
    entry(Shape::Circle, "radius of gyration of a circle", &["i = d/4", "i = r/2"], AXES),
    // tube
    entry(Shape::Tube, "area of a tube", &["A = pi*(D^2 - d^2)/4", "A = pi*(R^2 - r^2)", "A = pi*(D - t)*t", "A = pi*(d + t)*t"], AREAS)
        .mistaken(&["A = pi*(D - d)^2/4", "A = pi*(R - r)^2"]),
    entry(Shape::Tube, "second moment of area of a tube about its diameter", &["I = pi*(D^4 - d^4)/64", "I = pi*(R^4 - r^4)/4"], AREAS)
        .mistaken(&["I = pi*(D - d)^4/64", "I = pi*(R - r)^4/4"]),
    entry(Shape::Tube, "polar second moment of area and torsion constant of a tube", &["I_p = pi*(D^4 - d^4)/32", "I_p = pi*(R^4 - r^4)/2"], TORSION)
        .mistaken(&["I_p = pi*(D - d)^4/32", "I_p = pi*(R - r)^4/2"]),
    entry(Shape::Tube, "section modulus of a tube", &["W = pi*(D^4 - d^4)/(32*D)", "W = pi*(R^4 - r^4)/(4*R)"], MODULUS)
        .mistaken(&["W = pi*(D^3 - d^3)/32", "W = pi*(R^3 - r^3)/4", "W = pi*(D - d)^3/32"]),
    entry(Shape::Tube, "section modulus in torsion of a tube", &["W_t = pi*(D^4 - d^4)/(16*D)", "W_t = pi*(R^4 - r^4)/(2*R)"], TORSION)
        .mistaken(&["W_t = pi*(D^3 - d^3)/16", "W_t = pi*(R^3 - r^3)/2"]),
    entry(Shape::Tube, "plastic section modulus of a tube", &["W_pl = (D^3 - d^3)/6", "W_pl = 4*(R^3 - r^3)/3"], PLASTIC)
        .mistaken(&["W_pl = (D - d)^3/6"]),
    entry(Shape::Tube, "radius of gyration of a tube", &["i = sqrt(D^2 + d^2)/4", "i = sqrt(R^2 + r^2)/2"], AXES),
    entry(Shape::ThinTube, "area of a thin tube", &["A = pi*D*t", "A = 2*pi*r*t"], AREAS),
    entry(Shape::ThinTube, "second moment of area of a thin tube about its diameter", &["I = pi*D^3*t/8", "I = pi*r^3*t"], AREAS),
    entry(Shape::ThinTube, "polar second moment of area and torsion constant of a thin tube", &["I_p = pi*D^3*t/4", "I_p = 2*pi*r^3*t"], AREAS),
    entry(Shape::ThinTube, "section modulus of a thin tube", &["W = pi*D^2*t/4", "W = pi*r^2*t"], MODULUS),
    entry(Shape::ThinTube, "section modulus in torsion of a thin tube", &["W_t = pi*D^2*t/2", "W_t = 2*pi*r^2*t"], THIN),
    entry(Shape::ThinTube, "plastic section modulus of a thin tube", &["W_pl = D^2*t", "W_pl = 4*r^2*t"], PLASTIC),
    entry(Shape::ThinTube, "torsion constant of a thin tube slit along its length", &["J = pi*D*t^3/3", "J = 2*pi*r*t^3/3"], ROARK),
    entry(Shape::Semicircle, "area of a thin half ring", &["A = pi*r*t", "A = pi*D*t/2"], AREAS),
    entry(Shape::Semicircle, "second moment of area of a thin half ring about its diameter", &["I = pi*r^3*t/2", "I = pi*D^3*t/16"], AREAS),
    // hollow rectangle, I shape
    entry(Shape::HollowRectangle, "area of a hollow rectangle or a symmetric I shape", &["A = B*H - b*h"], GEOMETRY),
    entry(Shape::HollowRectangle, "second moment of area of a hollow rectangle or a symmetric I shape", &["I = (B*H^3 - b*h^3)/12"], AXES)
        .mistaken(&["I = (B - b)*(H - h)^3/12", "I = (B - b)*(H^3 - h^3)/12"]),
    entry(Shape::HollowRectangle, "section modulus of a hollow rectangle or a symmetric I shape", &["W = (B*H^3 - b*h^3)/(6*H)"], AXES)
        .mistaken(&["W = (B*H^2 - b*h^2)/6", "W = (B - b)*(H - h)^2/6"]),
    entry(Shape::HollowRectangle, "plastic section modulus of a hollow rectangle or a symmetric I shape", &["W_pl = (B*H^2 - b*h^2)/4"], PLASTIC),
    entry(Shape::HollowRectangle, "second moment of area of a thin square tube about its centroid", &["I = 2*a^3*t/3"], ROARK),
    // parts of a circle
    entry(Shape::Semicircle, "area of a semicircle", &["A = pi*r^2/2", "A = pi*d^2/8"], AREAS),
    entry(Shape::Semicircle, "distance of a semicircle's centroid from its diameter", &["ybar = 4*r/(3*pi)", "ybar = 2*d/(3*pi)"], AREAS),
    entry(Shape::Semicircle, "second moment of area of a semicircle about its diameter", &["I = pi*r^4/8", "I = pi*d^4/128"], AREAS),
    entry(Shape::Semicircle, "second moment of area of a semicircle about its centroid", &["I = (pi/8 - 8/(9*pi))*r^4"], AREAS),
    entry(Shape::Semicircle, "first moment of area of a semicircle about its diameter", &["Q = 2*r^3/3", "Q = d^3/12"], FIRST),
    entry(Shape::Quadrant, "area of a quarter of a circle", &["A = pi*r^2/4"], AREAS),
    entry(Shape::Quadrant, "second moment of area of a quarter of a circle about its straight edge", &["I = pi*r^4/16"], AREAS),
    entry(Shape::Quadrant, "second moment of area of a quarter of a circle about its centroid", &["I = (pi/16 - 4/(9*pi))*r^4"], AREAS),
    // ellipse
    entry(Shape::Ellipse, "area of an ellipse", &["A = pi*a*b", "A = pi*b*h/4"], AREAS),
    entry(Shape::Ellipse, "second moment of area of an ellipse about its axis", &["I = pi*a*b^3/4", "I = pi*b*h^3/64"], AREAS),
    entry(Shape::Ellipse, "section modulus of an ellipse", &["W = pi*a*b^2/4", "W = pi*b*h^2/32"], ROARK),
    entry(Shape::Ellipse, "torsion constant of an ellipse", &["J = pi*a^3*b^3/(a^2 + b^2)"], ROARK),
    // trapezium, parabola, hexagon
    entry(Shape::Trapezium, "area of a trapezium", &["A = (a + b)*h/2"], AREAS),
    entry(Shape::Trapezium, "height of a trapezium's centroid above its side b", &["ybar = h*(2*a + b)/(3*(a + b))"], AREAS),
    entry(Shape::Trapezium, "second moment of area of a trapezium about its centroid", &["I = h^3*(a^2 + 4*a*b + b^2)/(36*(a + b))"], AREAS),
    entry(Shape::Other, "area below a parabola", &["A = 2*b*h/3"], AREAS),
    entry(Shape::Other, "area of a regular hexagon", &["A = 3*sqrt(3)*a^2/2"], AREAS),
    entry(Shape::Other, "second moment of area of a regular hexagon about its centroid", &["I = 5*sqrt(3)*a^4/16"], AREAS),
    // any shape
    entry(Shape::Any, "height of the centroid of two parts", &["ybar = (A_1*y_1 + A_2*y_2)/(A_1 + A_2)"], AXES),
    entry(Shape::Any, "height of the centroid of three parts", &["ybar = (A_1*y_1 + A_2*y_2 + A_3*y_3)/(A_1 + A_2 + A_3)"], AXES),
    entry(Shape::Any, "second moment of area about a parallel axis", &["I = I_0 + A*e^2"], AXES),
    entry(Shape::Any, "second moment of area of two parts about a common axis", &["I = I_1 + A_1*e_1^2 + I_2 + A_2*e_2^2"], AXES),
    entry(Shape::Any, "polar second moment of area", &["I_p = I_x + I_y"], AXES),
    entry(Shape::Any, "larger principal second moment of area", &["I = (I_x + I_y)/2 + sqrt(((I_x - I_y)/2)^2 + I_xy^2)"], AXES),
    entry(Shape::Any, "smaller principal second moment of area", &["I = (I_x + I_y)/2 - sqrt(((I_x - I_y)/2)^2 + I_xy^2)"], AXES),
    entry(Shape::Any, "section modulus", &["W = I/y"], MODULUS),
    entry(Shape::Any, "section modulus of a section whose centroid is at half its depth", &["W = I/(h/2)"], MODULUS),
    entry(Shape::Any, "radius of gyration", &["i = sqrt(I/A)"], AXES),
    entry(Shape::Any, "first moment of area", &["Q = A*z"], FIRST),
    entry(Shape::Any, "shape factor", &["shape_factor = W_pl/W"], PLASTIC),
    // torsion of walls
    entry(Shape::ThinPlate, "torsion constant of a thin rectangle", &["J = b*t^3/3"], ROARK),
    entry(Shape::ThinPlate, "section modulus in torsion of a thin rectangle", &["W_t = b*t^2/3"], ROARK),
    entry(Shape::Cell, "torsion constant of a closed thin wall, all of one thickness", &["J = 4*A_m^2*t/s"], THIN),
    entry(Shape::Cell, "torsion constant of a thin rectangular tube, all of one thickness", &["J = 2*b^2*h^2*t/(b + h)"], THIN),
    entry(Shape::Cell, "section modulus in torsion of a closed thin wall", &["W_t = 2*A_m*t"], THIN),
    entry(Shape::Rectangle, "torsion constant of a square", &["J = 0.1406*a^4"], ROARK),
];
