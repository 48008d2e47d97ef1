#include "placement/pressure.hpp"

#include "base/levels.hpp"

namespace boxroom {

using Complex = std::complex<double>;

ByFrequency<Complex> pressure_at(const ByFrequency<Complex>& transfer,
                                 const ByFrequency<Complex>& velocity) {
    velocity.require(transfer.frequencies(), transfer.columns());
    ByFrequency<Complex> pressure(transfer.frequencies(), transfer.rows());
    for (std::size_t f = 0; f < transfer.frequencies(); ++f)
        for (std::size_t s = 0; s < transfer.rows(); ++s)
            for (std::size_t q = 0; q < transfer.columns(); ++q)
                pressure(f, s) += transfer(f, s, q) * velocity(f, q);
    return pressure;
}

ByFrequency<Complex> dial_factors(std::span<const double> frequency, std::span<const Dial> dials) {
    ByFrequency<Complex> out(frequency.size(), dials.size());
    for (std::size_t q = 0; q < dials.size(); ++q) {
        const auto factors = dials[q].factors(frequency);
        for (std::size_t f = 0; f < frequency.size(); ++f) out(f, q) = factors[f];
    }
    return out;
}

ByFrequency<double> squared(const ByFrequency<Complex>& pressure) {
    std::vector<double> power;
    power.reserve(pressure.values().size());
    for (const Complex& p : pressure.values()) power.push_back(std::norm(p));
    return {pressure.frequencies(), pressure.rows(), pressure.columns(), std::move(power)};
}

ByFrequency<double> levels(const ByFrequency<double>& power) {
    std::vector<double> level;
    level.reserve(power.values().size());
    for (const double p : power.values()) level.push_back(level_db(p));
    return {power.frequencies(), power.rows(), power.columns(), std::move(level)};
}

}  // namespace boxroom
