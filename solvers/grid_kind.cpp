#include "solvers/grid_kind.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace boxroom {
namespace {

/// Rounds to a multiple of 2^-22 (2^-51 for double). Sums of such coefficients are exact, so that a
/// constant pressure stays constant: with plain rounding the sum of a row misses 1 by 1e-7, and the
/// pressure of the closed room grows like e^(n sqrt(1e-7)).
template <typename Real>
double stepped(double x) {
    const int bits = std::numeric_limits<Real>::digits - 2;
    return std::ldexp(std::nearbyint(std::ldexp(x, bits)), -bits);
}

/// The branches of a node's walls; returns kappa, what all of them add to D.
template <typename Real>
double add_branches(const NodeKind& from, const GridShape& shape, const Air& air, double time_step,
                    GridKind<Real>& kind) {
    const double t = time_step, rho = air.density;
    double kappa = 0;
    for (const auto& patch : from.patches) {
        for (const auto& b : shape.surfaces[patch.surface].wall.branches) {
            const double q = b.mass / (t * t) + b.resistance / (2 * t) + b.stiffness / 4;
            const double alpha = 1 / (2 * t) / q;
            kappa += rho * patch.area / (2 * t) * alpha;
            if (b.stiffness <= 0) kind.sealed = false;
            if (b.mass <= 0 && b.stiffness <= 0) continue;
            kind.branches.push_back(
                {static_cast<Real>(alpha), static_cast<Real>(2 * b.mass / (t * t) / q),
                 static_cast<Real>(b.stiffness / q), static_cast<Real>(rho * patch.area / (2 * t)),
                 patch.area, b.mass, b.stiffness});
        }
    }
    return kappa;
}

}  // namespace

template <typename Real>
GridKind<Real> grid_kind(const NodeKind& from, const GridShape& shape, const Air& air,
                         double time_step, const std::array<std::ptrdiff_t, 18>& offset) {
    GridKind<Real> kind;
    kind.inner = from.inner;
    kind.volume = from.volume;
    kind.link = from.link;
    kind.among = from.among;
    kind.contents = !shape.contents.empty() && std::any_of(from.among.begin(), from.among.end(),
                                                           [](double l) { return l != 0; });
    const double c = air.speed_of_sound, d = from.volume / (c * c * time_step * time_step);
    const double kappa = add_branches(from, shape, air, time_step, kind);
    kind.inverse = 1 / (d + kappa);
    for (GridBranch<Real>& b : kind.branches) b.force = static_cast<Real>(b.force * kind.inverse);

    // With contents the stencil acts on phi, and what runs past them on p.
    StencilWeights<Real>& k = kind.stencil;
    double links = 0;
    for (int i = 0; i < 18; ++i) {
        const double whole = from.link[i], own = kind.contents ? from.among[i] : whole;
        const double link = stepped<Real>(own * kind.inverse);
        k.link[i] = static_cast<Real>(link);
        links += link;
        if (link != 0) k.weight[k.used] = k.link[i], k.at[k.used++] = offset[i];
        const double past = stepped<Real>((whole - own) * kind.inverse);
        if (past != 0) kind.bare.push_back({offset[i], static_cast<Real>(past)});
    }
    const double last = stepped<Real>((kappa - d) * kind.inverse);
    k.last = static_cast<Real>(last);
    k.centre = static_cast<Real>(1 - last - links);
    return kind;
}

template GridKind<float> grid_kind<float>(const NodeKind&, const GridShape&, const Air&, double,
                                          const std::array<std::ptrdiff_t, 18>&);
template GridKind<double> grid_kind<double>(const NodeKind&, const GridShape&, const Air&, double,
                                            const std::array<std::ptrdiff_t, 18>&);

}  // namespace boxroom
