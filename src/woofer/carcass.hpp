#pragma once
#include <array>
#include <vector>

#include "base/board.hpp"
#include "woofer/build_rules.hpp"
#include "woofer/enclosure.hpp"

namespace boxroom {

/// A box in whole steps of the rule one measures with, and what is in its air. All volumes in m3;
/// gross = net + driver + amplifier + bracing exactly, and gross is the product of the inner sides.
struct Carcass {
    Sides inner, outer;
    double net = 0;  ///< as built: within what whole steps allow of the net volume asked for
    double driver = 0, amplifier = 0, bracing = 0, gross = 0;
    double thickness = 0;
    std::vector<Panel> panels;
};

/// The box for a net volume with outer sides in whole multiples of `step` (1 mm, or 1/16 in): of
/// the sides within two steps of the exact ones, those nearest in proportion whose net volume is
/// off by at most 0.02 L, or else the nearest volume. Where the extra volume is given as one sum
/// (`itemised` is false) it is shared out: the driver first, the amplifier, the rest bracing.
Carcass build_carcass(double net_volume, const EnclosureRules& rules, const BuildRules& build,
                      double step);

/// The cut list. Butt joints: the front and back cover everything, top and bottom reach from side
/// to side between them, the sides stand within. Mitred: every panel has the size of its outer
/// face. Both fill the shell between inner and outer box exactly.
std::vector<Panel> cut_list(const Sides& inner, const EnclosureRules& rules,
                            const BuildRules& build);

/// A mitred panel [m3]: the frustum between its outer face a x b and its inner face (a - 2t) x
/// (b - 2t), by the prismoidal formula t/6 (A0 + 4 Am + A1).
double mitred_volume(double a, double b, double thickness);

/// First resonances of the air along width, depth and height: f = c/(2L) [Hz] (hard walls; any
/// book of acoustics, e.g. Morse & Ingard 1968 ch. 9).
std::array<double, 3> internal_modes(const Sides& inner, double speed_of_sound);

}  // namespace boxroom
