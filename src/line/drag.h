// How hard water pushes on a thin round line that moves broadside on.
//
// The drag on a length of cylinder is ½ ρ C_D d v², and C_D depends on the Reynolds number alone:
// Re = ρ v d / μ, 30 to 50 for an intermediate tip at 1.5 in/s, 90 for T-8, 185 for T-20.
// Assumes a long, smooth, round and straight cylinder square to the flow. Leaves out: drag along
// the line, the ends (a tip is 2000 diameters long or more), rough coatings, and the sudden fall of
// drag near Re 300 000, where no line ever is.
#pragma once

namespace coilbook {

struct Drag {
    double coefficient;  // C_D, referred to the frontal area, length times diameter
    double slope;        // d ln C_D / d ln Re: between -0.75 (slow) and +0.17 (Re 7000)
};

// The drag of a cylinder in cross flow. REQUIRES: reynolds > 0.
// Meant for 0.02 < Re < 200 000. Above it is not to be used; below it runs on as 11 Re^-0.75, still
// smooth and falling, but ever lower than the exact law of creeping flow: 2 % at Re 0.02, 31 % at
// Re 0.001, where a line is as good as neutral.
// Source: Cheng, J. Hydraul. Eng. 139 (2013), doi 10.1061/(ASCE)HY.1943-7900.0000722, as read in a
// public program that names that paper. Chosen because it follows the measurements best; the others
// compared were White's, and Sucker and Brauer's of 1975.
[[nodiscard]] Drag cylinder_drag(double reynolds);

// Relative standard uncertainty of C_D. From the root mean square of ln(law / measurement), for the
// points of a handbook figure as digitised in CylinderDragFits (public, commit c4bbeec;
// "Incompressible Flow", 4th ed.): 8.6 % over 1 < Re < 40 (56 points), 4.5 % over 40 < Re < 5000
// (20 points), in which 6.0 % up to Re 400 and 2.3 % above. So: 9 % up to Re 20 and 4.5 % from Re
// 400, and between them straight in ln Re, which gives 6.2 % in the middle of 40 to 400. This
// counts the scatter of the measurements as well as the error of the law. Below Re 1 it is too
// small (the points scatter by 13 % there). What a braided or rough line adds is not known.
inline constexpr double drag_uncertainty_of_slow_lines = 0.09;
inline constexpr double drag_uncertainty_of_fast_lines = 0.045;
[[nodiscard]] double drag_relative_uncertainty(double reynolds);

}  // namespace coilbook
