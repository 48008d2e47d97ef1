// The balance of many boxes at a spot at once, beside the judge's own, once for every set of
// instructions that this processor has.
#include <catch2/catch.hpp>
#include <cmath>
#include <random>
#include <stdexcept>

#include "placement/box_kernel.hpp"

using namespace boxroom;

TEST_CASE("Balances of many boxes agree with the judge's, with every set of instructions") {
    const std::vector<double> frequency = logarithmic_grid({12, 190}, 24);
    Target target;
    target.band = {25, 110}, target.slope = -1.5;
    const Judge judge(frequency, std::vector<Seat>{{"a", {}, 1}}, target);
    std::mt19937 random(3);
    std::normal_distribution<double> normal;
    // Fields of three nodes at one seat: products are those of complex numbers, so that every
    // weighted sum of them is a power.
    const std::size_t nodes = 3, stride = (frequency.size() + 15) / 16 * 16;
    SpotMean mean{stride, std::vector<float>(nodes * (nodes + 1) / 2 * stride)};
    std::vector<std::vector<double>> re(nodes), im(nodes);
    for (std::size_t a = 0; a < nodes; ++a)
        for (std::size_t f = 0; f < frequency.size(); ++f)
            re[a].push_back(1e3 * (2 + normal(random))), im[a].push_back(1e3 * normal(random));
    for (std::size_t a = 0, row = 0; a < nodes; ++a)
        for (std::size_t b = a; b < nodes; ++b, ++row)
            for (std::size_t f = 0; f < frequency.size(); ++f)
                mean.products[row * stride + f] = static_cast<float>(
                    (a == b ? 1 : 2) * (re[a][f] * re[b][f] + im[a][f] * im[b][f]));
    std::vector<DrivenBox> boxes;
    std::vector<double> expected;
    for (int n = 0; n < 19; ++n) {  // more than a block, and not a whole number of them
        DrivenBox box;
        const double weight[] = {0.5 + 0.02 * n, 0.7 - 0.03 * n, -0.2 + 0.01 * n};
        for (std::size_t a = 0; a < nodes; ++a)
            for (std::size_t b = a; b < nodes; ++b)
                box.product_weights.push_back(static_cast<float>(weight[a] * weight[b]));
        std::vector<double> power;
        for (std::size_t f = 0; f < frequency.size(); ++f) {
            box.power.push_back(1e-12 / (1 + std::pow((20.0 + n) / frequency[f], 4)));
            double x = 0, y = 0;
            for (std::size_t a = 0; a < nodes; ++a)
                x += weight[a] * re[a][f], y += weight[a] * im[a][f];
            power.push_back((x * x + y * y) * box.power.back());
        }
        boxes.push_back(box);
        expected.push_back(judge.balance(power));
    }
    const BoxKernel kernel(judge, boxes);
    for (const VectorSet set : {VectorSet::baseline, VectorSet::avx2, VectorSet::avx512}) {
        if (!can_run(set)) continue;
        INFO(vector_instructions(set));
        BoxKernel::Scratch scratch;
        std::vector<double> balance(boxes.size());
        kernel.balances(mean, scratch, balance, set_vectors(set));
        for (std::size_t n = 0; n < boxes.size(); ++n)
            CHECK(balance[n] == Approx(expected[n]).margin(0.002));
    }
    boxes.back().power.pop_back();
    CHECK_THROWS_AS(BoxKernel(judge, boxes), std::length_error);
}
