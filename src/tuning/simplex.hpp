#pragma once
#include <algorithm>
#include <span>
#include <vector>

namespace boxroom {

/// Minimises f from x by the simplex of Nelder & Mead (Computer Journal 7, 1965; reflection 1,
/// expansion 2, contraction and shrinking 1/2), spending about `evaluations`. For functions with
/// kinks in few variables; finds a local minimum. Returns the best point seen.
template <typename Function>
std::vector<double> minimise_simplex(const Function& f, const std::vector<double>& x,
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
    std::ranges::stable_sort(corner, {}, &Corner::value);
    std::vector<double> middle(n);
    Corner next{0, std::vector<double>(n)}, other = next;
    while (evaluations > 0) {
        if (corner.back().value - corner.front().value < 1e-6) break;
        std::ranges::fill(middle, 0.0);
        for (std::size_t c = 0; c < n; ++c)
            for (std::size_t i = 0; i < n; ++i) middle[i] += corner[c].at[i] / n;
        const auto go = [&](double t, Corner& to) {  // t = -1 is the worst corner, 1 its reflection
            for (std::size_t i = 0; i < n; ++i)
                to.at[i] = middle[i] + t * (middle[i] - corner[n].at[i]);
            to.value = f(to.at), --evaluations;
        };
        go(1, next);
        if (next.value < corner.front().value) {
            go(2, other);
            if (other.value < next.value) std::swap(next, other);
        } else if (next.value >= corner[n - 1].value) {
            go(next.value < corner[n].value ? 0.5 : -0.5, other);
            if (other.value < std::min(next.value, corner[n].value)) std::swap(next, other);
        }
        if (next.value < corner[n].value) {
            std::swap(corner[n], next);
            for (std::size_t c = n; c > 0 && corner[c].value < corner[c - 1].value; --c)
                std::swap(corner[c], corner[c - 1]);
            continue;
        }
        for (std::size_t c = 1; c <= n; ++c) {
            for (std::size_t i = 0; i < n; ++i)
                corner[c].at[i] = (corner[c].at[i] + corner[0].at[i]) / 2;
            corner[c].value = f(corner[c].at), --evaluations;
        }
        std::ranges::stable_sort(corner, {}, &Corner::value);
    }
    return std::ranges::min_element(corner, {}, &Corner::value)->at;
}

}  // namespace boxroom
