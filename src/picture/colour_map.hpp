#pragma once
#include "picture/paper.hpp"

namespace boxroom {

/// The colour of a value on a scale from 0 (sand, light) to 1 (dark blue, heavy); clamped outside.
///
/// Lightness falls steadily and equal steps of the value look equal, so that neither an edge nor a
/// flat patch is seen where there is none, in print without colour and with any colour blindness
/// too (why that matters: Crameri, Shephard & Heron 2020, Nature Communications 11:5444). Made here
/// as a curve through CIELAB from sand over teal to dark blue, walked at constant CIE 1976 colour
/// difference.
Colour map_colour(double position);

/// CIELAB lightness L* (0 black, 100 white) of an sRGB colour, D65 (IEC 61966-2-1; CIE 15).
double lightness(Colour colour);

}  // namespace boxroom
