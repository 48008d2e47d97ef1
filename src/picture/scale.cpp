#include "picture/scale.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace boxroom {

std::vector<double> Scale::ticks() const {
    std::vector<double> out;
    const double first = std::ceil(low / step - 1e-6), last = std::floor(high / step + 1e-6);
    for (double n = first; n <= last && out.size() < 200; ++n) out.push_back(n * step);
    return out;
}

double round_step(double rough) {
    const double power = std::pow(10.0, std::floor(std::log10(rough)));
    for (const double factor : {1.0, 2.0, 5.0})
        if (factor * power >= rough * (1 - 1e-9)) return factor * power;
    return 10 * power;
}

Scale robust_scale(std::vector<double> values) {
    if (values.empty()) return {};
    std::sort(values.begin(), values.end());
    const auto percentile = [&](double share) {  // linear between the sorted values
        const double at = share * double(values.size() - 1);
        const auto i = std::size_t(at);
        const double next = values[std::min(i + 1, values.size() - 1)];
        return values[i] + (at - double(i)) * (next - values[i]);
    };
    Scale out{percentile(0.02), percentile(0.98), 1};
    const double size = std::max(std::abs(out.low), std::abs(out.high));
    // Below a thousandth of the size (or 0.01 of whatever the unit is) differences are not worth a
    // colour.
    const double narrowest = std::max(0.01, 1e-3 * size);
    if (out.high - out.low < narrowest) {
        out.step = round_step(narrowest);
        const double middle = std::round((out.low + out.high) / 2 / out.step) * out.step;
        out.low = middle - out.step;
        out.high = middle + out.step;
        return out;
    }
    out.step = round_step((out.high - out.low) / 9);
    out.low = std::floor(out.low / out.step + 1e-6) * out.step;
    out.high = std::ceil(out.high / out.step - 1e-6) * out.step;
    return out;
}

std::string tick_text(double value, double step) {
    const int decimals = std::clamp(int(std::ceil(-std::log10(step) - 1e-6)), 0, 6);
    char text[64];
    const double tidy = std::abs(value) < step * 1e-6 ? 0.0 : value;
    std::snprintf(text, sizeof text, "%.*f", decimals, tidy);
    return text;
}

}  // namespace boxroom
