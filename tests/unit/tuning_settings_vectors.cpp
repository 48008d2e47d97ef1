// What the search for settings works out with the processor's vectors, beside the plain
// definitions, once for every set of instructions that this processor has.
#include <catch2/catch.hpp>
#include <cmath>
#include <complex>
#include <numbers>
#include <random>
#include <vector>

#include "tuning/biquad.hpp"
#include "tuning/settings_vectors.hpp"

using namespace boxroom;

TEST_CASE("Power of turned and added pressures, with every set of instructions") {
    const int subs = 3, seats = 2, frequencies = 37, stride = 40;
    std::mt19937 random(4);
    std::normal_distribution<double> normal;
    std::vector<double> re(subs * seats * stride), im(re.size()), omega(stride);
    for (auto* plane : {&re, &im})
        for (double& x : *plane) x = normal(random);
    for (int f = 0; f < frequencies; ++f) omega[f] = 2 * std::numbers::pi * (15 + 4.0 * f);
    const double gain[] = {1, -0.7, 0.4}, delay[] = {0, 0.0083, 0.0021};
    for (const VectorSet set : {VectorSet::baseline, VectorSet::avx2, VectorSet::avx512}) {
        if (!can_run(set)) continue;
        INFO(vector_instructions(set));
        for (const auto& [first, last] : {std::pair{0, 36}, {5, 30}, {9, 9}}) {
            std::vector<double> power(frequencies * seats, 77.0);
            settings_vectors(set).power({subs, seats, stride, re.data(), im.data(), omega.data()},
                                        gain, delay, first, last, power.data());
            for (int f = 0; f < frequencies; ++f)
                for (int s = 0; s < seats; ++s) {
                    std::complex<double> sum = 0;
                    for (int k = 0; k < subs; ++k) {
                        const int at = (k * seats + s) * stride + f;
                        sum += gain[k] * std::polar(1.0, -omega[f] * delay[k]) *
                               std::complex<double>(re[at], im[at]);
                    }
                    const double expected = f < first || f > last ? 77 : std::norm(sum);
                    CHECK(power[f * seats + s] == Approx(expected).margin(1e-12));
                }
            // Their mean, and how far the seats' levels lie apart.
            const double seat_weight[] = {0.3, 0.7};
            std::vector<double> band_weight(stride), average(frequencies, 77.0);
            double spread = 0;
            for (int f = first; f <= last; ++f) {
                band_weight[f] = 0.01 * (f + 1);
                const double a = power[f * seats], b = power[f * seats + 1],
                             difference = 10 * std::log10(a / b);
                spread += band_weight[f] * std::sqrt(0.3 * 0.7) * std::abs(difference);
            }
            const double judged = settings_vectors(set).judge(
                {subs, seats, stride, re.data(), im.data(), omega.data()}, gain, delay, first, last,
                seat_weight, band_weight.data(), average.data());
            CHECK(judged == Approx(spread).epsilon(1e-9));
            for (int f = 0; f < frequencies; ++f)
                CHECK(average[f] == Approx(f < first || f > last ? 77
                                                                 : 0.3 * power[f * seats] +
                                                                       0.7 * power[f * seats + 1])
                                        .margin(1e-12));
        }
    }
}

TEST_CASE("A sub at sixteen delays, with every set of instructions") {
    const int seats = 3, frequencies = 5;
    std::mt19937 random(9);
    std::normal_distribution<float> normal;
    std::vector<float> pressure(2 * seats * frequencies), omega, delay;
    for (float& x : pressure) x = normal(random);
    for (int f = 0; f < frequencies; ++f) omega.push_back(70.0f + 290.0f * f);
    for (int d = 0; d < 16; ++d) delay.push_back(0.0027f * (d - 7));
    for (const VectorSet set : {VectorSet::baseline, VectorSet::avx2, VectorSet::avx512}) {
        if (!can_run(set)) continue;
        INFO(vector_instructions(set));
        std::vector<float> field(pressure.size() * 16);
        settings_vectors(set).delayed(frequencies, seats, pressure.data(), omega.data(),
                                      delay.data(), field.data());
        for (int f = 0; f < frequencies; ++f)
            for (int s = 0; s < seats; ++s)
                for (int d = 0; d < 16; ++d) {
                    const int at = 2 * (f * seats + s);
                    const auto expected =
                        std::complex<double>(pressure[at], pressure[at + 1]) *
                        std::polar(1.0, -static_cast<double>(omega[f]) * delay[d]);
                    CHECK(field[at * 16 + d] == Approx(expected.real()).margin(1e-5));
                    CHECK(field[(at + 1) * 16 + d] == Approx(expected.imag()).margin(1e-5));
                }
    }
}

TEST_CASE("Power of filters is that of their response, with every set of instructions") {
    const std::vector<double> frequency{10, 20, 31.5, 50, 63, 80, 100, 160, 200, 500, 20000};
    const double rate = 192e3;
    for (const VectorSet set : {VectorSet::baseline, VectorSet::avx2, VectorSet::avx512}) {
        if (!can_run(set)) continue;
        INFO(vector_instructions(set));
        std::vector<double> expected(frequency.size(), 1.0), power(frequency.size());
        std::vector<FilterPower> filters;
        for (const EqFilter& filter : {EqFilter{EqFilter::Kind::peaking, 42, -9, 6},
                                       EqFilter{EqFilter::Kind::low_shelf, 60, 4, 0.7},
                                       EqFilter{EqFilter::Kind::high_shelf, 110, -3, 0.6}}) {
            const Biquad b = biquad(filter, rate);
            // |b0 + b1 z^-1 + b2 z^-2|^2 over x = sin^2(pi f/rate)
            const double n = b.b0 + b.b1 + b.b2, d = 1 + b.a1 + b.a2;
            filters.push_back({n * n, -4 * (b.b0 * b.b1 + 4 * b.b0 * b.b2 + b.b1 * b.b2),
                               16 * b.b0 * b.b2, d * d, -4 * (b.a1 + 4 * b.a2 + b.a1 * b.a2),
                               16 * b.a2});
            for (std::size_t f = 0; f < frequency.size(); ++f)
                expected[f] *= std::norm(b.response(frequency[f], rate));
        }
        settings_vectors(set).filter_power(filters.data(), 3, rate, frequency.data(),
                                           static_cast<int>(frequency.size()), power.data());
        for (std::size_t f = 0; f < frequency.size(); ++f)
            CHECK(10 * std::log10(power[f] / expected[f]) == Approx(0).margin(1e-6));
    }
}

TEST_CASE("What filters leave of a curve, as its definition says, with every set of instructions") {
    std::mt19937 random(9);
    std::uniform_real_distribution<double> share;
    const EqFilter filters[] = {{EqFilter::Kind::peaking, 42, -9, 6},
                                {EqFilter::Kind::peaking, 70, 5, 0.7}};
    constexpr int count = 40;
    std::vector<double> place, weight, deviation, allowed, frequency;
    for (int f = 0; f < count; ++f) {
        frequency.push_back(20 * std::exp2(f / 12.0));
        place.push_back(equaliser_place(frequency.back()));
        weight.push_back(f < 5 || f > 30 ? 0 : share(random));
        deviation.push_back(10 * share(random) - 5);
        allowed.push_back(f % 7 == 0 ? 0 : f % 5 == 0 ? HUGE_VAL : 3);
    }
    double mean = 0, square = 0, lift = 0, excess = 0;
    for (int f = 0; f < count; ++f) {
        double gain = 0;
        for (const EqFilter& filter : filters)
            gain += 20 * std::log10(std::abs(biquad(filter, 192e3).response(frequency[f], 192e3)));
        const double d = deviation[f] + gain;
        mean += weight[f] * d, square += weight[f] * d * d, lift += weight[f] * gain;
        excess += gain > allowed[f] ? std::pow(gain - allowed[f], 2) : 0;
    }
    REQUIRE(excess > 1);  // or this test looks at nothing
    const FilterPower squares[] = {filter_power(filters[0]), filter_power(filters[1])};
    for (const VectorSet set : {VectorSet::baseline, VectorSet::avx2, VectorSet::avx512}) {
        if (!can_run(set)) continue;
        INFO(vector_instructions(set));
        FilteredSums sums{};
        std::vector<double> power(count);
        settings_vectors(set).filtered(
            squares, 2, {count, place.data(), weight.data(), deviation.data(), allowed.data()},
            power.data(), sums);
        CHECK(sums.mean == Approx(mean).epsilon(1e-7));
        CHECK(sums.square == Approx(square).epsilon(1e-7));
        CHECK(sums.lift == Approx(lift).epsilon(1e-7));
        CHECK(sums.excess == Approx(excess).epsilon(1e-7));
        for (int f = 0; f < count; ++f)
            CHECK(10 * std::log10(
                           power[f] /
                           std::norm(biquad(filters[0], 192e3).response(frequency[f], 192e3) *
                                     biquad(filters[1], 192e3).response(frequency[f], 192e3))) ==
                  Approx(0).margin(1e-6));
    }
}
