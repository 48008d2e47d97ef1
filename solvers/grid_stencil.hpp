#pragma once
#include <array>
#include <cstddef>

namespace boxroom {

/// The weights of one kind of node: next = centre p + last next + sum of links, each its own.
template <typename Real>
struct StencilWeights {
    Real centre = 0, last = 0;
    std::array<Real, 18> link{};
    int used = 0;  ///< how many links have a weight, and those:
    std::array<Real, 18> weight{};
    std::array<std::ptrdiff_t, 18> at{};
};

/// The longest row that the loops below work on at a time.
inline constexpr int longest_run = 256;

/// Seven points of air, last = -1, `count` neighbours along x.
template <typename Real>
void air_seven(const StencilWeights<Real>& k, const std::array<std::ptrdiff_t, 18>& offset,
               int count, const Real* p, Real* next) {
    const Real centre = k.centre, x = k.link[0], y = k.link[2], z = k.link[4];
    const Real *front = p + offset[2], *back = p + offset[3];
    const Real *below = p + offset[4], *above = p + offset[5];
#pragma omp simd
    for (int i = 0; i < count; ++i)
        next[i] = centre * p[i] - next[i] + x * (p[i - 1] + p[i + 1]) + y * (front[i] + back[i]) +
                  z * (below[i] + above[i]);
}

/// Nineteen: the sum over the three columns i - 1, i, i + 1, of which what the outer two share is
/// worked out once.
template <typename Real>
void air_nineteen(const StencilWeights<Real>& k, const std::array<std::ptrdiff_t, 18>& offset,
                  int count, const Real* p, Real* next) {
    const Real centre = k.centre, x = k.link[0], y = k.link[2], z = k.link[4];
    const Real xy = k.link[6], xz = k.link[10], yz = k.link[14];
    const std::ptrdiff_t row = offset[3], plane = offset[5];
    const Real *front = p - row, *back = p + row, *below = p - plane, *above = p + plane;
    const Real *bf = below - row, *bb = below + row, *af = above - row, *ab = above + row;
    Real outer[longest_run + 2];  // of column i at i + 1
    for (const int i : {-1, count})
        outer[i + 1] = x * p[i] + xy * (front[i] + back[i]) + xz * (below[i] + above[i]);
#pragma omp simd
    for (int i = 0; i < count; ++i) {
        const Real along_y = front[i] + back[i], along_z = below[i] + above[i];
        outer[i + 1] = x * p[i] + xy * along_y + xz * along_z;
        next[i] = centre * p[i] - next[i] + y * along_y + z * along_z +
                  yz * ((bf[i] + bb[i]) + (af[i] + ab[i]));
    }
#pragma omp simd
    // NOLINTNEXTLINE(clang-analyzer-core.UndefinedBinaryOperatorResult): the ends are written above
    for (int i = 0; i < count; ++i) next[i] += outer[i] + outer[i + 2];
}

/// Any kind of node, neighbours along x.
template <typename Real>
void gather(const StencilWeights<Real>& k, const std::array<std::ptrdiff_t, 18>& offset, int links,
            int count, const Real* p, Real* next) {
    const auto& w = k.link;
    const Real centre = k.centre, last = k.last;
    const Real *n0 = p + offset[0], *n1 = p + offset[1], *n2 = p + offset[2];
    const Real *n3 = p + offset[3], *n4 = p + offset[4], *n5 = p + offset[5];
#pragma omp simd
    for (int i = 0; i < count; ++i)
        next[i] = centre * p[i] + last * next[i] + w[0] * n0[i] + w[1] * n1[i] + w[2] * n2[i] +
                  w[3] * n3[i] + w[4] * n4[i] + w[5] * n5[i];
    for (int l = 6; l < links; l += 2) {
        if (w[l] == 0 && w[l + 1] == 0) continue;
        const Real *a = p + offset[l], *b = p + offset[l + 1];
#pragma omp simd
        for (int i = 0; i < count; ++i) next[i] += w[l] * a[i] + w[l + 1] * b[i];
    }
}

/// The same for nodes along y, `stride` apart, from and to lists.
template <typename Real>
void gather_column(const StencilWeights<Real>& k, std::ptrdiff_t stride, int count, const Real* p,
                   const Real* last, Real* next) {
    for (int i = 0; i < count; ++i) {
        const Real* here = p + i * stride;
        Real sum = k.centre * here[0] + k.last * last[i];
        for (int l = 0; l < k.used; ++l) sum += k.weight[l] * here[k.at[l]];
        next[i] = sum;
    }
}

}  // namespace boxroom
