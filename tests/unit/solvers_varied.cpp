// Many small systems side by side against one at a time, for every set of vector instructions.
#include <Eigen/LU>
#include <catch2/catch.hpp>
#include <complex>
#include <random>
#include <vector>

#include "solvers/varied_vectors.hpp"

using namespace boxroom;

TEST_CASE("Systems in lanes are solved as each by itself is") {
    // Even and odd sizes, and receivers that are solved four, three, two and one at a time.
    const int receivers = GENERATE(1, 2, 3, 5), size = GENERATE(1, 2, 7, 8);
    constexpr int lanes = VariedSystems::lanes, parts = 3, sources = 3;
    std::mt19937 random(3);
    std::uniform_real_distribution<double> any(-1, 1);
    std::vector<double> part(size * (size + 1) / 2 * parts), re(parts * lanes), im(parts * lanes);
    std::vector<double> load(size * (receivers + sources) * lanes);
    for (auto* all : {&part, &re, &im, &load})
        for (double& x : *all) x = any(random);
    std::vector<double> out_re(receivers * sources * lanes), out_im(out_re);
    for (const VectorSet set : {VectorSet::baseline, VectorSet::avx2, VectorSet::avx512}) {
        if (!can_run(set)) continue;
        VariedSystems systems{size,        parts,     part.data(), re.data(),     im.data(),
                              load.data(), receivers, sources,     out_re.data(), out_im.data()};
        std::vector<double> scratch(systems.scratch_size());
        systems.scratch = scratch.data();
        varied_vectors(set).solve(systems);
        for (int lane = 0; lane < lanes; ++lane) {
            Eigen::MatrixXcd a(size, size);
            for (int i = 0; i < size; ++i)
                for (int k = 0; k <= i; ++k) {
                    std::complex<double> sum = 0;
                    for (int p = 0; p < parts; ++p)
                        sum += part[(i * (i + 1) / 2 + k) * parts + p] *
                               std::complex<double>(re[p * lanes + lane], im[p * lanes + lane]);
                    a(i, k) = a(k, i) = sum;
                }
            Eigen::MatrixXcd b(size, receivers + sources);
            for (int i = 0; i < size; ++i)
                for (int c = 0; c < b.cols(); ++c)
                    b(i, c) = load[(i * (receivers + sources) + c) * lanes + lane];
            const Eigen::MatrixXcd z =
                b.leftCols(receivers).transpose() * a.partialPivLu().solve(b.rightCols(sources));
            for (int r = 0; r < receivers; ++r)
                for (int s = 0; s < sources; ++s) {
                    const int at = (r * sources + s) * lanes + lane;
                    CHECK(out_re[at] == Approx(z(r, s).real()).epsilon(1e-8).margin(1e-8));
                    CHECK(out_im[at] == Approx(z(r, s).imag()).epsilon(1e-8).margin(1e-8));
                }
        }
    }
}
