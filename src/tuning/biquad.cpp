#include "tuning/biquad.hpp"

#include <cmath>
#include <numbers>
#include <stdexcept>
#include <utility>

#include "base/error.hpp"
#include "base/levels.hpp"
#include "placement/many_levels.hpp"

namespace boxroom {

const char* filter_name(EqFilter::Kind kind) {
    return kind == EqFilter::Kind::peaking     ? "peaking"
           : kind == EqFilter::Kind::low_shelf ? "low shelf"
                                               : "high shelf";
}

std::optional<EqFilter::Kind> filter_named(std::string_view name) {
    for (const auto kind :
         {EqFilter::Kind::peaking, EqFilter::Kind::low_shelf, EqFilter::Kind::high_shelf})
        if (name == filter_name(kind)) return kind;
    return std::nullopt;
}

using std::numbers::pi;

std::complex<double> Biquad::response(double frequency, double rate) const {
    const auto z = std::polar(1.0, -2 * pi * frequency / rate);  // z^-1
    return (b0 + z * (b1 + z * b2)) / (1.0 + z * (a1 + z * a2));
}

bool Biquad::stable() const {
    return std::abs(a2) < 1 && std::abs(a1) < 1 + a2;  // the stability triangle
}

/// Throws Error for one that no digital filter of this rate can be.
static void check(const EqFilter& filter, double rate) {
    if (!(filter.frequency > 0 && filter.frequency < rate / 2) || !(filter.q > 0))
        throw Error("biquad",
                    "a filter needs a frequency between 0 and half the rate and a Q above 0",
                    "check the equaliser's filters");
}

Biquad biquad(const EqFilter& filter, double rate) {
    check(filter, rate);
    const double a = std::pow(10.0, filter.gain_db / 40);
    const double w0 = 2 * pi * filter.frequency / rate;
    const double cosine = std::cos(w0), alpha = std::sin(w0) / (2 * filter.q);
    double b0, b1, b2, a0, a1, a2;
    if (filter.kind == EqFilter::Kind::peaking) {
        b0 = 1 + alpha * a, b1 = -2 * cosine, b2 = 1 - alpha * a;
        a0 = 1 + alpha / a, a1 = -2 * cosine, a2 = 1 - alpha / a;
    } else {
        // The high shelf is the low one with the sign of the cosine turned.
        const double sign = filter.kind == EqFilter::Kind::low_shelf ? 1 : -1;
        const double c = sign * cosine, root = 2 * std::sqrt(a) * alpha;
        b0 = a * ((a + 1) - (a - 1) * c + root);
        b1 = sign * 2 * a * ((a - 1) - (a + 1) * c);
        b2 = a * ((a + 1) - (a - 1) * c - root);
        a0 = (a + 1) + (a - 1) * c + root;
        a1 = sign * -2 * ((a - 1) + (a + 1) * c);
        a2 = (a + 1) + (a - 1) * c - root;
    }
    return {b0 / a0, b1 / a0, b2 / a0, a1 / a0, a2 / a0};
}

static constexpr double rate = 192e3;

/// The cookbook's filters in x = sin^2(w/2) and s = sin^2(w0/2): at a hundredth of a percent of the
/// rate the squares of b0 .. a2 would be the small difference of large numbers, and lose half the
/// digits. By |b0 + b1 z^-1 + b2 z^-2|^2 = (b0 + b1 + b2)^2 - 4 (b1 (b0 + b2) + 4 b0 b2) x
/// + 16 b0 b2 x^2; a factor of 16 is left out above and below.
FilterPower filter_power(const EqFilter& filter) {
    check(filter, rate);
    const double a = std::pow(10.0, filter.gain_db / 40);
    const double s = equaliser_place(filter.frequency);
    const double alpha = std::sin(2 * pi * filter.frequency / rate) / (2 * filter.q);
    FilterPower p{};
    if (filter.kind == EqFilter::Kind::peaking) {
        const double over = alpha * alpha * a * a, under = alpha * alpha / (a * a);
        return {s * s, over - 2 * s, 1 - over, s * s, under - 2 * s, 1 - under};
    }
    const double width = a * alpha * alpha, low = 2 + 2 * s * (a - 1),
                 high = 2 * a - 2 * s * (a - 1);
    p.n0 = 4 * s * s * a * a, p.n1 = -4 * (a * s * low - width), p.n2 = low * low - 4 * width;
    p.d0 = 4 * s * s, p.d1 = -4 * (s * high - width), p.d2 = high * high - 4 * width;
    if (filter.kind == EqFilter::Kind::high_shelf) {  // above and below have changed places
        std::swap(p.n0, p.d0), std::swap(p.n1, p.d1), std::swap(p.n2, p.d2);
    }
    for (double* n : {&p.n0, &p.n1, &p.n2}) *n *= a * a;
    return p;
}

double equaliser_place(double frequency) {
    return std::pow(std::sin(pi * frequency / rate), 2);
}

std::vector<double> equaliser_power(std::span<const EqFilter> filters,
                                    std::span<const double> frequency) {
    std::vector<FilterPower> squares;
    for (const EqFilter& filter : filters) squares.push_back(filter_power(filter));
    std::vector<double> power(frequency.size());
    settings_vectors().filter_power(squares.data(), static_cast<int>(squares.size()), rate,
                                    frequency.data(), static_cast<int>(power.size()), power.data());
    return power;
}

std::vector<double> equaliser_db(std::span<const EqFilter> filters,
                                 std::span<const double> frequency) {
    return gains_db(equaliser_power(filters, frequency));
}

std::vector<double> gains_db(std::span<const double> power) {
    auto gain = levels_db(power);
    for (double& db : gain) db -= level_db(1);
    return gain;
}

std::vector<double> raised(std::vector<double> level_db, std::span<const double> gain_db) {
    if (level_db.size() != gain_db.size())
        throw std::length_error("levels and gains of unlike frequencies");
    for (std::size_t f = 0; f < gain_db.size(); ++f) level_db[f] += gain_db[f];
    return level_db;
}

}  // namespace boxroom
