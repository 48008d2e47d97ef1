// What the processor's vectors work out, beside the plain definitions in double precision, once for
// every set of instructions that this processor has.
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "solvers/axis_modes.hpp"
#include "solvers/floor_vectors.hpp"
#include "solvers/modal_drafts.hpp"
#include "solvers/product_vectors.hpp"

using namespace boxroom;
using Complex = std::complex<double>;

namespace {

constexpr double pi = 3.14159265358979324;

std::vector<VectorSet> all_sets() {
    std::vector<VectorSet> sets;
    for (const VectorSet set : {VectorSet::baseline, VectorSet::avx2, VectorSet::avx512})
        if (can_run(set)) sets.push_back(set);
    return sets;
}

/// Axes of every kind: hard, soft, and with walls on springs.
std::vector<AxisProblem> axes() {
    const double k = 2 * pi * 90 / 343.2;
    return {{4.1, k, {0.02, 0}, {0.02, 0}},
            {5.2, k, {0.30, -0.10}, {0.05, 0.02}},
            {2.45, k, {0.9, 0.5}, {0.004, 0}},
            {3.3, {k, -0.1}, {0.2, 0.3}, {0.1, -0.2}},
            {6.0, k, {1e-9, 0}, {1e-9, 0}}};
}

/// Complex numbers as the kernels take them.
template <typename Real>
struct Planes {
    std::vector<Real> re, im;
    explicit Planes(std::size_t size) : re(size), im(size) {}
    Complex at(std::size_t i) const { return {re[i], im[i]}; }
};
ModeNumbers numbers(Planes<double>& p) {
    return {p.re.data(), p.im.data()};
}
Planes<double> eigenvalues(const AxisProblem& axis, int count) {
    Planes<double> q2(count + 16);
    const auto root = axis_eigenvalues(axis, count + 16);
    for (std::size_t n = 0; n < root.size(); ++n)
        q2.re[n] = root[n].real(), q2.im[n] = root[n].imag();
    return q2;
}

Planes<float> random_numbers(std::size_t size, unsigned seed) {
    std::mt19937 random(seed);
    std::normal_distribution<float> normal;
    Planes<float> p(size);
    for (auto* plane : {&p.re, &p.im})
        for (float& x : *plane) x = normal(random);
    return p;
}

}  // namespace

TEST_CASE("Eigenvalues of an axis solve its equation, with every set of instructions") {
    for (const VectorSet set : all_sets())
        for (const AxisProblem& axis : axes()) {
            INFO(vector_instructions(set) << ", length " << axis.length);
            const int count = 23;
            Planes<double> q2(count + 16);
            REQUIRE(floor_vectors(set).eigenvalues(axis_numbers(axis), count, numbers(q2)));
            for (int n = 0; n < count; ++n) {
                // (q^2 + k^2 b0 b1) sin(qL)/q = j k (b0 + b1) cos(qL), beside the two sides' size
                const Complex q = std::sqrt(q2.at(n)), z = q * axis.length;
                const Complex left = (q2.at(n) + axis.k * axis.k * axis.b0 * axis.b1) *
                                     std::sin(z) / q,
                              right = Complex{0, 1} * axis.k * (axis.b0 + axis.b1) * std::cos(z);
                CHECK(std::abs(left - right) < 1e-9 * (1 + std::abs(q2.at(n))));
            }
            // Starts of soft walls may lead to the same one twice; the sum rule sees that.
            const auto checked = axis_eigenvalues(axis, count);
            for (int n = 1; n < count; ++n) CHECK(std::abs(checked[n] - checked[n - 1]) > 0.1);
        }
}

TEST_CASE("A step of Newton's method squares what an eigenvalue is off by") {
    for (const VectorSet set : all_sets())
        for (const AxisProblem& axis : axes()) {
            INFO(vector_instructions(set) << ", length " << axis.length);
            const int count = 16;
            const auto root = axis_eigenvalues(axis, count);
            const double unit = std::pow(pi / axis.length, 2);
            for (const double off : {3e-3, 3e-5}) {
                Planes<double> q2(count);
                for (int n = 0; n < count; ++n)
                    q2.re[n] = root[n].real() + off * unit, q2.im[n] = root[n].imag() - off * unit;
                floor_vectors(set).polish(axis_numbers(axis), count, numbers(q2));
                // The curvature of F beside its slope: 1/unit where roots lie two units apart.
                for (int n = 0; n < count; ++n)
                    CHECK(std::abs(q2.at(n) - root[n]) < (10 * off * off + 1e-10) * unit);
            }
        }
}

TEST_CASE("Mode functions, plain and divided by their norm, with every set of instructions") {
    const int count = 19, points = 32;
    for (const VectorSet set : all_sets())
        for (const AxisProblem& axis : axes()) {
            INFO(vector_instructions(set) << ", length " << axis.length);
            Planes<double> q2 = eigenvalues(axis, count), weighted(points * (count + 16));
            Planes<float> psi(count * points);
            std::vector<double> x;
            for (int i = 0; i < points; ++i) x.push_back(axis.length * i / (points - 1));
            floor_vectors(set).mode_functions(axis_numbers(axis), count, numbers(q2), x.data(),
                                              points, psi.re.data(), psi.im.data(), points);
            floor_vectors(set).weighted(axis_numbers(axis), count, numbers(q2), x.data(), points,
                                        numbers(weighted), count + 16);
            for (int n = 0; n < count; ++n)
                for (int i = 0; i < points; ++i) {
                    const Complex exact = axis_function(axis, q2.at(n), x[i]),
                                  norm = axis_norm(axis, q2.at(n));
                    CHECK(std::abs(Complex(psi.at(n * points + i)) - exact) <
                          3e-6 * (1 + std::abs(exact)));
                    CHECK(std::abs(weighted.at(i * (count + 16) + n) * norm - exact) <
                          1e-11 * (1 + std::abs(exact)));
                }
        }
}

TEST_CASE("The closed form of the third axis, with every set of instructions") {
    // Heights in both orders, one the same as a receiver's, one on the floor.
    const std::vector<double> sources{0.25, 0.0, 1.9, 1.1}, receivers{1.1, 1.3};
    const std::vector<int> height_of{0, 1, 0};
    const int count = 21, step = 48, seats = 3;
    const AxisProblem across = axes()[1];
    Planes<double> q2 = eigenvalues(across, count);
    Planes<double> left(seats), right(seats * step);
    for (int i = 0; i < seats * step; ++i)
        right.re[i] = std::cos(i), right.im[i] = std::sin(3.0 * i);
    for (int r = 0; r < seats; ++r) left.re[r] = 1 + r, left.im[r] = 0.3 * r;
    for (const VectorSet set : all_sets())
        for (const AxisProblem& axis : axes()) {
            INFO(vector_instructions(set) << ", length " << axis.length);
            const AxisNumbers plain = axis_numbers(axis);
            const Complex kappa2 = axis.k * axis.k - Complex{0.5, 0.01}, factor{0, 700};
            Planes<float> out(sources.size() * seats * step);
            std::vector<float> scratch(64 * (sources.size() + receivers.size()));
            floor_vectors(set).row_of_terms({&plain,
                                             kappa2.real(),
                                             kappa2.imag(),
                                             factor.real(),
                                             factor.imag(),
                                             numbers(q2),
                                             count,
                                             sources.data(),
                                             4,
                                             receivers.data(),
                                             2,
                                             seats,
                                             height_of.data(),
                                             numbers(left),
                                             numbers(right),
                                             1,
                                             step,
                                             out.re.data(),
                                             out.im.data(),
                                             seats * step,
                                             step,
                                             scratch.data()});
            for (std::size_t h = 0; h < sources.size(); ++h)
                for (int r = 0; r < seats; ++r)
                    for (int n = 0; n < count; ++n) {
                        const Complex exact = factor * left.at(r) * right.at(r * step + n) *
                                              axis_green(axis, kappa2 - q2.at(n), sources[h],
                                                         receivers[height_of[r]]);
                        const Complex size = factor * left.at(r) * right.at(r * step + n) *
                                             axis_green(axis, kappa2 - q2.at(n), 1.1, 1.1);
                        CHECK(std::abs(Complex(out.at((h * seats + r) * step + n)) - exact) <
                              4e-6 * std::abs(size) + 2e-5 * std::abs(exact));
                    }
        }
}

TEST_CASE("Products of complex matrices, with every set of instructions") {
    for (const VectorSet set : all_sets())
        for (const int rows : {1, 2, 3, 4, 5, 6, 7})
            for (const int columns : {8, 24, 40}) {
                INFO(vector_instructions(set) << ", " << rows << " x " << columns);
                const int terms = 13, a_row = 17, b_term = 40, out_row = 48;
                const auto a = random_numbers(rows * a_row, 1),
                           b = random_numbers(terms * b_term, 2);
                auto out = random_numbers(rows * out_row, 3);
                const auto before = out;
                product_vectors(set).product({rows, terms, columns, a.re.data(), a.im.data(), a_row,
                                              1, b.re.data(), b.im.data(), b_term, out.re.data(),
                                              out.im.data(), out_row});
                for (int r = 0; r < rows; ++r)
                    for (int i = 0; i < out_row; ++i) {
                        Complex sum = i < columns ? 0 : before.at(r * out_row + i);
                        for (int n = 0; n < terms && i < columns; ++n)
                            sum += a.at(r * a_row + n) * b.at(n * b_term + i);
                        CHECK(std::abs(out.at(r * out_row + i) - sum) < 1e-5);
                    }
                auto added = before;
                product_vectors(set).add_products(rows, columns, out.re.data(), out.im.data(),
                                                  out_row, b.re.data(), b.im.data(),
                                                  added.re.data(), added.im.data(), out_row);
                for (int r = 0; r < rows; ++r)
                    for (int i = 0; i < out_row; ++i) {
                        const int n = r * out_row + i;
                        const Complex sum =
                            before.at(n) + (i < columns ? out.at(n) * b.at(i) : Complex{});
                        CHECK(std::abs(added.at(n) - sum) < 1e-5 * (1 + std::abs(sum)));
                    }
            }
}

TEST_CASE("A floor, points strewn about and boxes of several heights, against pair by pair") {
    Room room{4.1, 5.2, 2.45, {}, {}};
    room.walls = {Wall{{{20000, 0, 0}}}, Wall{{{5300, 7.8, 1.594e6}}}, Wall{{{4000, 0, 0}}},
                  Wall{{{20000, 0, 0}}}, Wall{{{4200, 0, 0}}},         Wall{{{9300, 9, 7.09e5}}}};
    const std::vector<double> frequency{11, 34, 68, 90, 127, 190};
    const std::vector<Point> ears{{2, 3.5, 1.1}, {1, 3, 1.2}, {3.1, 2.5, 1.1}};
    std::vector<Point> floor, strewn;
    for (int y = 0; y < 6; ++y)
        for (int x = 0; x < 11; ++x)  // with a gap, of two heights, two of them above the ears
            if (x != 4 || y < 3)
                floor.push_back({0.3 + 0.35 * x, 0.3 + 0.9 * y,
                                 y == 2             ? 0.31
                                 : x == 10 && y > 3 ? 2.2
                                                    : 0.22});
    std::mt19937 random(5);
    std::uniform_real_distribution<double> share(0.05, 0.95);
    for (int n = 0; n < 21; ++n)
        strewn.push_back({4.1 * share(random), 5.2 * share(random), n < 9 ? 0.2 : 0.3});
    strewn.push_back(strewn[3]);  // the same place twice
    for (const auto& sources : {floor, strewn}) {
        const auto exact = modal_transfer(room, Air{}, frequency, sources, ears);
        const auto many = modal_transfer_many(room, Air{}, frequency, sources, ears);
        for (std::size_t f = 0; f < frequency.size(); ++f)
            for (std::size_t r = 0; r < ears.size(); ++r) {
                double mean = 0;
                for (std::size_t s = 0; s < sources.size(); ++s)
                    mean += std::norm(exact.at(f, r, s)) / sources.size();
                for (std::size_t s = 0; s < sources.size(); ++s)
                    CHECK(std::abs(Complex(many.at(f, r, s)) - exact.at(f, r, s)) <
                          5e-5 * std::sqrt(mean));
            }
    }
}

TEST_CASE("What decays may be taken between frequencies, where walls resonate broadly") {
    // Masonry, and a stud wall whose own resonance at 72 Hz has a Q of 0.9.
    Room room{4.1, 5.2, 2.45, {}, {}};
    for (Wall& wall : room.walls) wall = Wall{{{20000, 0, 0}}};
    room.walls[1] = Wall{{{5300, 7.8, 1.594e6}}};
    std::vector<double> frequency;
    for (int n = 0; n < 40; ++n) frequency.push_back(12 * std::exp2(n / 10.0));
    const std::vector<Point> ears{{2, 3.5, 1.1}, {1, 3, 1.2}};
    std::mt19937 random(7);
    std::uniform_real_distribution<double> share(0.05, 0.95);
    std::vector<Point> sources;
    for (int n = 0; n < 20; ++n) sources.push_back({4.1 * share(random), 5.2 * share(random), 0.2});
    const auto exact = modal_transfer(room, Air{}, frequency, sources, ears);
    const auto quick = modal_transfer_draft(room, Air{}, frequency, sources, ears);
    for (std::size_t f = 0; f < frequency.size(); ++f) {
        double error = 0, all = 0;
        for (std::size_t r = 0; r < ears.size(); ++r)
            for (std::size_t s = 0; s < sources.size(); ++s) {
                error += std::norm(Complex(quick.at(f, r, s)) - exact.at(f, r, s));
                all += std::norm(exact.at(f, r, s));
            }
        INFO(frequency[f]);
        CHECK(std::sqrt(error / all) < 2e-4);
    }
}
