#include "woofer/drive.hpp"

#include <cmath>
#include <limits>
#include <numbers>

#include "base/number.hpp"

namespace boxroom {
namespace {

using std::numbers::pi;

constexpr double lowest_share = 0.8;  // of the nominal impedance: what a driver may have

std::optional<double> load_of(const Amplifier& amplifier, const Driver& driver) {
    return amplifier.load ? amplifier.load : driver.re;
}

/// Says so where the amplifier was rated into another load than it is to drive.
void misfit(double load, double coil, std::vector<std::string>& texts) {
    const std::string ratings = "[amplifier] is rated into " + number(load, 1) +
                                " ohm, the coil has " + number(coil, 1) + " ohm: ";
    const std::string mend = "; give power and load as rated near " + number(coil, 0) + " ohm";
    if (coil < lowest_share * load)
        texts.push_back(ratings + "its limit of current there is unknown and not counted" + mend);
    if (coil > 2 * load)
        texts.push_back(ratings + "it may have more volts for it than are counted" + mend);
}

}  // namespace

std::string limit_name(DriveLimit limit) {
    static const char* const names[] = {"excursion", "voltage", "current", "power"};
    return names[static_cast<int>(limit)];
}

std::optional<double> Amplifier::volts(const Driver& driver) const {
    const auto ohms = load_of(*this, driver);
    if (!power || !ohms) return std::nullopt;
    return std::sqrt(*power * *ohms);
}

std::optional<double> Amplifier::amperes(const Driver& driver) const {
    const auto ohms = load_of(*this, driver);
    if (!power || !ohms || (driver.re && *driver.re < lowest_share * *ohms)) return std::nullopt;
    return std::sqrt(*power / *ohms);
}

DriveCeiling drive_ceiling(const Driver& driver, const ClosedBox& box, const Amplifier& amplifier,
                           std::span<const double> frequency, const Air& air) {
    const bool electrical = driver.absolute();
    const auto volts = electrical ? amplifier.volts(driver) : std::nullopt;
    const auto amperes = electrical ? amplifier.amperes(driver) : std::nullopt;
    const auto heat = electrical ? driver.power : std::nullopt;
    DriveCeiling ceiling;
    if (!(driver.sd && driver.xmax) && !volts && !heat) return ceiling;

    const auto per_volt = volume_velocity(driver, box, frequency, air, 1.0);
    for (std::size_t f = 0; f < frequency.size(); ++f) {
        double lowest = std::numeric_limits<double>::infinity();
        DriveLimit by = DriveLimit::excursion;
        const auto meet = [&](double value, DriveLimit limit) {
            if (value < lowest) lowest = value, by = limit;
        };
        if (driver.sd && driver.xmax)
            meet(2 * pi * frequency[f] * *driver.sd * *driver.xmax / std::numbers::sqrt2,
                 DriveLimit::excursion);
        if (electrical) {
            const double z = std::abs(input_impedance(driver, box, frequency[f], air));
            const double u = std::abs(per_volt[f]);
            if (volts) meet(*volts * u, DriveLimit::voltage);
            if (amperes) meet(*amperes * z * u, DriveLimit::current);
            if (heat) meet(std::sqrt(*heat / *driver.re) * z * u, DriveLimit::power);
        }
        ceiling.volume_velocity.push_back(lowest);
        ceiling.limited_by.push_back(by);
    }
    return ceiling;
}

std::vector<std::string> unknown_limits(const Driver& driver, const Amplifier& amplifier) {
    std::vector<std::string> texts;
    const bool cone = driver.sd && driver.xmax;
    const bool amplified = driver.absolute() && amplifier.power;
    if (!cone && !amplified && !(driver.absolute() && driver.power)) {
        texts.push_back(
            "the loudest level is unknown: it wants sd and xmax in [driver], and "
            "[amplifier] power");
        return texts;
    }
    if (!cone)
        texts.push_back(
            "the loudest level does not count the cone's travel: sd and xmax in "
            "[driver] are missing");
    if (!amplified)
        texts.push_back(amplifier.power
                            ? "the loudest level does not count the amplifier: the driver's re and "
                              "qes (or bl, mms) are missing"
                            : "the loudest level does not count the amplifier: [amplifier] power "
                              "is missing");
    if (amplified && !amplifier.load)
        texts.push_back(
            "[amplifier] load is missing: its power is taken to be into the driver's "
            "re");
    if (amplified && amplifier.load) misfit(*amplifier.load, *driver.re, texts);
    return texts;
}

}  // namespace boxroom
