// What the processor's vectors work out of arrays, beside the plain definitions, once for every set
// of instructions that this processor has.
#include <catch2/catch.hpp>
#include <cmath>
#include <complex>
#include <random>
#include <vector>

#include "placement/array_vectors.hpp"

using namespace boxroom;

TEST_CASE("Levels of many pressures, with every set of instructions") {
    for (const VectorSet set : {VectorSet::baseline, VectorSet::avx2, VectorSet::avx512}) {
        if (!can_run(set)) continue;
        INFO(vector_instructions(set));
        for (const int count : {1, 2, 3, 7, 8, 31}) {  // whole vectors, and what is left over
            std::vector<double> power, level(count + 1, 77.0);
            for (int n = 0; n < count; ++n) power.push_back(std::pow(10, -36.0 + 1.337 * n));
            power[0] = 0;
            array_vectors(set).levels(power.data(), count, level.data());
            CHECK(level[0] == Approx(-300));  // silence
            for (int n = 1; n < count; ++n)
                CHECK(level[n] == Approx(10 * std::log10(power[n] / 4e-10)).margin(1e-11));
            CHECK(level[count] == 77);
        }
        double x = 1, y = 0;  // the reference and a doubling
        array_vectors(set).levels(&(x = 4e-10), 1, &y);
        CHECK(y == Approx(0).margin(1e-12));
        array_vectors(set).levels(&(x = 4e-8), 1, &y);
        CHECK(y == Approx(20).margin(1e-12));
    }
}

TEST_CASE("Moments of levels about a target, with every set of instructions") {
    std::mt19937 random(8);
    std::uniform_real_distribution<double> any(0, 1);
    for (const VectorSet set : {VectorSet::baseline, VectorSet::avx2, VectorSet::avx512}) {
        if (!can_run(set)) continue;
        INFO(vector_instructions(set));
        for (const int count : {1, 5, 8, 23}) {  // whole vectors, and what is left over
            std::vector<double> power, target, weight;
            double mean = 0, square = 0;
            for (int n = 0; n < count; ++n) {
                power.push_back(std::pow(10, -9 * any(random)));
                target.push_back(6 * any(random)), weight.push_back(any(random));
                const double d = 10 * std::log10(power[n] / 4e-10) - target[n];
                mean += weight[n] * d, square += weight[n] * d * d;
            }
            const auto found =
                array_vectors(set).moments(power.data(), target.data(), weight.data(), count);
            CHECK(found.mean == Approx(mean).epsilon(1e-12));
            CHECK(found.square == Approx(square).epsilon(1e-12));
        }
    }
}

TEST_CASE("Means of fields between nodes, with every set of instructions") {
    const int nodes = 4, seats = 3, frequencies = 41, stride = 48;
    std::mt19937 random(3);
    std::normal_distribution<float> normal;
    std::vector<float> re(nodes * seats * stride), im(re.size());
    for (auto* plane : {&re, &im})
        for (float& x : *plane) x = normal(random);
    const std::vector<float> seat_weight{0.5f, 0.2f, 0.3f}, node_weight{0.7f, 0.6f, -0.4f, 0.1f};
    std::vector<double> scale;
    for (int f = 0; f < frequencies; ++f) scale.push_back(1 + 0.1 * f);
    for (const VectorSet set : {VectorSet::baseline, VectorSet::avx2, VectorSet::avx512}) {
        if (!can_run(set)) continue;
        INFO(vector_instructions(set));
        std::vector<float> products(10 * stride), weight;
        array_vectors(set).products({nodes, seats, stride, re.data(), im.data()},
                                    seat_weight.data(), products.data());
        for (int a = 0; a < nodes; ++a)
            for (int b = a; b < nodes; ++b) weight.push_back(node_weight[a] * node_weight[b]);
        std::vector<double> out(frequencies + 1, 77.0);
        array_vectors(set).weighted_sum(10, weight.data(), products.data(), stride, scale.data(),
                                        frequencies, out.data());
        CHECK(out[frequencies] == 77);
        for (int f = 0; f < frequencies; ++f) {
            double mean = 0;
            for (int s = 0; s < seats; ++s) {
                std::complex<double> field = 0;
                for (int a = 0; a < nodes; ++a) {
                    const int at = (a * seats + s) * stride + f;
                    field +=
                        static_cast<double>(node_weight[a]) * std::complex<double>(re[at], im[at]);
                }
                mean += seat_weight[s] * std::norm(field);
            }
            CHECK(out[f] == Approx(scale[f] * mean).margin(2e-6 * scale[f]));
        }
    }
}
