#pragma once
#include <complex>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "woofer/closed_box.hpp"

namespace boxroom {

/// What runs out first when the level goes up.
enum class DriveLimit { excursion, voltage, current, power };
std::string limit_name(DriveLimit limit);

/// An amplifier by its rating: `power` [W] into `load` [ohm], sine, RMS. It is a source of voltage:
/// a rating says how many volts it has, and that it can feed the current that so many ohms draw.
/// How much more it can feed into fewer ohms the rating does not say.
struct Amplifier {
    std::optional<double> power, load;
    /// sqrt(P R) [V]; empty where the rating is unknown. A rating without a load is taken to be
    /// into the driver's Re.
    std::optional<double> volts(const Driver& driver) const;
    /// sqrt(P / R) [A], where a load as low as the driver's was rated; else empty: the limit is
    /// unknown, not that of the higher load. The coil is no lower than was rated where Re is at
    /// least 0.8 of the load, the least that a driver of that nominal impedance may have (IEC
    /// 60268-5, from memory).
    std::optional<double> amperes(const Driver& driver) const;
};

/// Impedance of the driver in its box [ohm]: Ze = Re + jwLe + Bl^2/Zm, with Zm as in
/// volume_velocity (Small, JAES 20(5) 1972; Beranek & Mellow ch. 6). Absolute drivers only: throws
/// Error for others.
std::complex<double> input_impedance(const Driver& driver, const ClosedBox& box, double frequency,
                                     const Air& air);

/// By how much the cone gives way to a pressure on it while the amplifier holds the voltage: Y =
/// Sd^2 Ze/(Ze Zm + Bl^2) [m3/(s Pa)], Ze and Zm as in volume_velocity. Absolute drivers only:
/// throws Error for others.
std::complex<double> cone_admittance(const Driver& driver, const ClosedBox& box, double frequency,
                                     const Air& air);

/// The largest clean volume velocity, one frequency at a time.
struct DriveCeiling {
    std::vector<double> volume_velocity;  ///< (F) [m3/s], RMS
    std::vector<DriveLimit> limited_by;   ///< (F)
    bool known() const { return !volume_velocity.empty(); }
};

/// |U| at which the first of these is met, for a steady sine:
///   excursion  |U| = w Sd Xmax/sqrt(2)        (one way, peak; Small, JAES 21(5) 1973)
///   voltage    |V| = sqrt(P R) of the amplifier
///   current    |V| = sqrt(P/R) |Z|            into the driver's own impedance Z, where known
///   power      |V| = sqrt(Pmax/Re) |Z|        I^2 Re heats the coil
/// What the sheets do not say is not counted; empty (`known()` false) if nothing limits. Excursion
/// needs Sd and Xmax only, the rest an absolute driver.
DriveCeiling drive_ceiling(const Driver& driver, const ClosedBox& box, const Amplifier& amplifier,
                           std::span<const double> frequency, const Air& air);

/// What is missing for a full answer, or does not fit, in words for the user; empty if nothing.
std::vector<std::string> unknown_limits(const Driver& driver, const Amplifier& amplifier);

}  // namespace boxroom
