#pragma once
#include <optional>
#include <string>

namespace boxroom {

/// A quantity that was given, or estimated by a rule of thumb that says how far it may be off.
struct Estimate {
    double value = 0;
    double error = 0;  ///< may be off by this, either way
    std::string rule;  ///< "as given", or the rule in words
};

/// Volume of a frustum of a cone [m3]: pi h/12 (D^2 + D d + d^2), D and d the diameters of its two
/// ends, h its height (Euclid, Elements XII; any handbook).
double frustum_volume(double wide, double narrow, double height);

/// Effective diameter of a cone [m]: 2 sqrt(Sd/pi).
double cone_diameter(double sd);

/// What a driver takes from the air inside [m3]. The frustum rule: cone and magnet together take
/// as much as a frustum of the cone's effective diameter D at the wide end, D/2 at the narrow end
/// and 0.35 D deep. The ratios are fitted to what data sheets of 8 to 15 inch drivers state (about
/// 0.7, 1.4, 2.6 and 5.7 L; from memory) and may be off by 40 %. Without Sd a ten-inch cone
/// (330 cm2) is assumed, off by up to 70 %.
Estimate driver_displacement(std::optional<double> sd);

/// What an amplifier built into the back takes [m3]: 1 L + 4 mL per watt, off by up to 50 % (plate
/// amplifiers of 100 to 1000 W, from memory). Without a rated power: none, it stands outside.
Estimate amplifier_displacement(std::optional<double> power);

/// Weight of a driver [kg]: 600 kg/m3 D^3, off by up to 50 % (8 to 15 inch subwoofer drivers weigh
/// about 3, 5, 10 and 20 kg; from memory).
Estimate driver_mass(std::optional<double> sd);

/// Weight of a built-in amplifier [kg]: 2 kg + 8 g per watt, off by up to 50 % (from memory).
Estimate amplifier_mass(std::optional<double> power);

/// Width of the bars that frame a brace's window [m]: 15 % of its shorter side. A square brace
/// then keeps 49 % of its area open.
double brace_bar(double across, double along);

/// Solid volume of the cleats and window braces in a box [m3]. A brace is a panel across the box,
/// parallel to the driver's panel (sides `across`, `along`), with a window in the middle; four
/// cleats of t x t run the depth in the corners, cut where a brace stands.
double bracing_volume(double across, double along, double depth, double thickness, int braces,
                      bool cleats);

}  // namespace boxroom
