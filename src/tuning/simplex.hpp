#pragma once
#include <algorithm>
#include <functional>
#include <numeric>
#include <span>
#include <vector>

namespace boxroom {

/// Minimises f from x by the simplex of Nelder & Mead (Computer Journal 7, 1965; reflection 1,
/// expansion 2, contraction and shrinking 1/2), spending about `evaluations`. For functions with
/// kinks in few variables; finds a local minimum. Returns the best point seen.
inline std::vector<double> minimise_simplex(const std::function<double(std::span<const double>)>& f,
                                            const std::vector<double>& x,
                                            const std::vector<double>& step, int evaluations) {
    const std::size_t n = x.size();
    if (n == 0) return x;
    struct Corner {
        double value;
        std::vector<double> at;
    };
    std::vector<Corner> corner{{f(x), x}};
    for (std::size_t i = 0; i < n; ++i) {
        auto at = x;
        at[i] += step[i];
        corner.push_back({f(at), at});
    }
    evaluations -= static_cast<int>(n) + 1;
    while (evaluations > 0) {
        std::ranges::stable_sort(corner, {}, &Corner::value);
        if (corner.back().value - corner.front().value < 1e-6) break;
        std::vector<double> middle(n, 0.0);
        for (std::size_t c = 0; c < n; ++c)
            for (std::size_t i = 0; i < n; ++i) middle[i] += corner[c].at[i] / n;
        const auto along = [&](double t) {  // t = -1 is the worst corner, 1 its reflection
            Corner next{0, middle};
            for (std::size_t i = 0; i < n; ++i) next.at[i] += t * (middle[i] - corner[n].at[i]);
            next.value = f(next.at), --evaluations;
            return next;
        };
        Corner next = along(1);
        if (next.value < corner.front().value) {
            const Corner further = along(2);
            if (further.value < next.value) next = further;
        } else if (next.value >= corner[n - 1].value) {
            const Corner nearer = along(next.value < corner[n].value ? 0.5 : -0.5);
            if (nearer.value < std::min(next.value, corner[n].value)) next = nearer;
        }
        if (next.value < corner[n].value) {
            corner[n] = next;
            continue;
        }
        for (std::size_t c = 1; c <= n; ++c) {
            for (std::size_t i = 0; i < n; ++i)
                corner[c].at[i] = (corner[c].at[i] + corner[0].at[i]) / 2;
            corner[c].value = f(corner[c].at), --evaluations;
        }
    }
    return std::ranges::min_element(corner, {}, &Corner::value)->at;
}

}  // namespace boxroom
