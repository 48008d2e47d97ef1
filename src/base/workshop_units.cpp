#include "base/workshop_units.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <numeric>

namespace boxroom {
namespace {

std::string printed(const char* format, double value) {
    char text[64];
    std::snprintf(text, sizeof text, format, value);
    return text;
}

std::string ordered(const std::string& metric, const std::string& imperial, Units lead) {
    return lead == Units::metric ? metric + " (" + imperial + ")" : imperial + " (" + metric + ")";
}

}  // namespace

std::string format_millimetres(double metres) {
    const double mm = metres * 1e3;
    return printed(std::abs(mm - std::round(mm)) < 0.05 ? "%.0f mm" : "%.1f mm", mm);
}

std::string format_sixteenths(double metres) {
    const long sixteenths = std::lround(std::abs(metres) / 0.0254 * 16);
    std::string out = metres < 0 && sixteenths > 0 ? "-" : "";
    const long whole = sixteenths / 16;
    long over = sixteenths % 16, under = 16;
    if (whole > 0 || over == 0) out += std::to_string(whole);
    if (over > 0) {
        const long common = std::gcd(over, under);
        over /= common, under /= common;
        out += (whole > 0 ? " " : "") + std::to_string(over) + "/" + std::to_string(under);
    }
    return out + " in";
}

std::string format_both(double metres, Units lead) {
    return ordered(format_millimetres(metres), format_sixteenths(metres), lead);
}

std::string format_weight(double kilograms, Units lead) {
    const double pounds = kilograms / 0.45359237;
    if (kilograms < 1)
        return ordered(printed("%.0f g", kilograms * 1e3), printed("%.1f oz", pounds * 16), lead);
    return ordered(printed("%.1f kg", kilograms), printed("%.1f lb", pounds), lead);
}

std::string format_litres(double cubic_metres, Units lead) {
    return ordered(printed("%.1f L", cubic_metres * 1e3),
                   printed("%.3f ft3", cubic_metres / (0.3048 * 0.3048 * 0.3048)), lead);
}

std::vector<double> rounded_parts(const std::vector<double>& parts, double step) {
    const double sum = std::accumulate(parts.begin(), parts.end(), 0.0);
    std::vector<double> steps;
    for (double part : parts)
        steps.push_back(steps.empty() ? std::round(part / step) : std::floor(part / step + 1e-9));
    const long missing =
        std::lround(std::round(sum / step) - std::accumulate(steps.begin(), steps.end(), 0.0));
    std::vector<std::size_t> order(parts.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    if (!order.empty()) order.erase(order.begin());
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return parts[a] / step - steps[a] > parts[b] / step - steps[b];
    });
    for (long n = 0; n < missing && n < static_cast<long>(order.size()); ++n)
        steps[order[static_cast<std::size_t>(n)]] += 1;
    for (double& value : steps) value *= step;
    return steps;
}

}  // namespace boxroom
