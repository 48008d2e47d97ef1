#include <algorithm>
#include <cmath>
#include <tuple>
#include <unordered_map>

#include "solvers/modal.hpp"
#include "solvers/modal_parts.hpp"
#include "solvers/ports.hpp"

namespace boxroom {

using namespace modal_parts;

namespace {

/// The distinct values among many coordinates and, for each coordinate, which one it is.
struct DistinctValues {
    std::vector<double> value;
    std::vector<int> index;
};

DistinctValues distinct(std::span<const Point> points, int axis) {
    DistinctValues result;
    std::unordered_map<long long, int> seen;
    for (const Point& p : points) {
        const double x = coordinates(p)[axis];
        const auto [entry, is_new] =
            seen.try_emplace(std::llround(x * 1e7), static_cast<int>(result.value.size()));
        if (is_new) result.value.push_back(x);
        result.index.push_back(entry->second);
    }
    return result;
}

/// A complex matrix as two planes of floats: the inner loops below then run over plain arrays.
struct Planes {
    int rows = 0, columns = 0;
    std::vector<float> re, im;
    void resize(int r, int c) {
        rows = r, columns = c;
        re.assign(static_cast<std::size_t>(r) * c, 0);
        im.assign(static_cast<std::size_t>(r) * c, 0);
    }
    void set(int r, int c, Complex v) {
        re[r * columns + c] = static_cast<float>(v.real());
        im[r * columns + c] = static_cast<float>(v.imag());
    }
};

/// Both factors of AxisGreen at a few points of the closed-form axis.
struct Factors {
    std::vector<double> at;
    std::vector<Complex> below, above;
    explicit Factors(std::vector<double> points)
        : at(std::move(points)), below(at.size()), above(at.size()) {}
    void fill(const AxisGreen& along) {
        for (std::size_t i = 0; i < at.size(); ++i)
            below[i] = along.below(at[i]), above[i] = along.above(at[i]);
    }
};

/// out += factor * row, complex, on `count` entries.
inline void add_scaled(float* out_re, float* out_im, float factor_re, float factor_im,
                       const float* re, const float* im, int count) {
#pragma omp simd
    for (int i = 0; i < count; ++i) {
        out_re[i] += factor_re * re[i] - factor_im * im[i];
        out_im[i] += factor_re * im[i] + factor_im * re[i];
    }
}

}  // namespace

TransferImpedance<float> modal_transfer_many(const Room& room, const Air& air,
                                             std::span<const double> frequency,
                                             std::span<const Point> sources,
                                             std::span<const Point> receivers, double decay) {
    check_inside(room, sources, "a source");
    check_inside(room, receivers, "a receiver");
    const auto side = sides(room);
    TransferImpedance<float> result(frequency.size(), receivers.size(), sources.size());
    if (result.value.empty()) return result;

    // 1. The common axis along which the closest pair is furthest apart; usually the height.
    int c = 2;
    double distance = 0;
    for (int axis = 0; axis < 3; ++axis) {
        double closest = 1e9;
        for (const Point& r : receivers)
            for (const Point& s : sources)
                closest = std::min(closest, std::abs(coordinates(r)[axis] - coordinates(s)[axis]));
        if (closest > distance) c = axis, distance = closest;
    }
    if (distance < 0.03) {  // sources at ear height: no common axis, so pair by pair
        const auto exact = modal_transfer(room, air, frequency, sources, receivers);
        for (std::size_t i = 0; i < exact.value.size(); ++i)
            result.value[i] = static_cast<std::complex<float>>(exact.value[i]);
        return result;
    }
    const int a = (c + 1) % 3, b = (c + 2) % 3;

    // 2. Sources sorted so that those sharing b (and c) are neighbours.
    const DistinctValues on_a = distinct(sources, a), on_b = distinct(sources, b),
                         on_c = distinct(sources, c);
    std::vector<int> order(sources.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = static_cast<int>(i);
    std::sort(order.begin(), order.end(), [&](int x, int y) {
        return std::tie(on_c.index[x], on_b.index[x], on_a.value[on_a.index[x]]) <
               std::tie(on_c.index[y], on_b.index[y], on_a.value[on_a.index[y]]);
    });
    struct Group {
        int first, count, b, c;
    };
    std::vector<Group> groups;
    for (int i = 0; i < static_cast<int>(order.size()); ++i) {
        const int s = order[i];
        if (groups.empty() || groups.back().b != on_b.index[s] || groups.back().c != on_c.index[s])
            groups.push_back({i, 0, on_b.index[s], on_c.index[s]});
        ++groups.back().count;
    }

    const int total = static_cast<int>(sources.size());
    const int b_count = static_cast<int>(on_b.value.size());
    const int c_count = static_cast<int>(on_c.value.size());
    const DistinctValues receiver_c = distinct(receivers, c);

    for_each_frequency(frequency.size(), [&](std::size_t f) {
        const auto axis = axis_problems(room, air, frequency[f]);
        const double k = axis[0].k.real();
        const int m_count = modes_needed(side[a], k, distance, decay);
        const int n_count = modes_needed(side[b], k, distance, decay);
        const AxisTable on_m = axis_table(axis[a], m_count), on_n = axis_table(axis[b], n_count);
        const double beyond = std::pow(decay / distance, 2) + 4 * k * k;

        // 3. Mode functions at the sources: [m][source in sorted order], [n][distinct b].
        Planes at_source, at_b;
        at_source.resize(m_count, total);
        std::vector<Complex> line(on_a.value.size());
        for (int m = 0; m < m_count; ++m) {
            for (std::size_t i = 0; i < line.size(); ++i)
                line[i] = axis_function(axis[a], on_m.q2[m], on_a.value[i]);
            for (int i = 0; i < total; ++i) at_source.set(m, i, line[on_a.index[order[i]]]);
        }
        at_b.resize(n_count, b_count);
        for (int n = 0; n < n_count; ++n)
            for (int i = 0; i < b_count; ++i)
                at_b.set(n, i, axis_function(axis[b], on_n.q2[n], on_b.value[i]));

        // 4. The closed-form axis for every pair of heights.
        const int pairs = c_count * static_cast<int>(receiver_c.value.size());
        const bool far = std::sqrt(beyond) * side[c] > 350;  // the factors would overflow
        std::vector<Complex> green(static_cast<std::size_t>(pairs) * m_count * n_count);
        Factors source(on_c.value), receiver(receiver_c.value);
        for (int m = 0; m < m_count; ++m) {
            for (int n = 0; n < n_count; ++n) {
                const Complex across = on_m.q2[m] + on_n.q2[n];
                if (across.real() > beyond) break;
                const AxisGreen along(axis[c], axis[c].k * axis[c].k - across);
                if (!far) source.fill(along), receiver.fill(along);
                for (int p = 0; p < pairs; ++p) {
                    const int from = p % c_count, to = p / c_count;
                    const double x = source.at[from], y = receiver.at[to];
                    green[(static_cast<std::size_t>(p) * m_count + m) * n_count + n] =
                        far     ? along(x, y)
                        : x < y ? source.below[from] * receiver.above[to]
                                : receiver.below[to] * source.above[from];
                }
            }
        }

        // 5. Per receiver: contract n for every distinct b, then m for every source.
        const Complex scale = source_factor(room, air, frequency[f]);
        Planes inner;
        std::vector<float> out_re(total), out_im(total);
        std::vector<Complex> at_receiver(n_count);
        for (std::size_t r = 0; r < receivers.size(); ++r) {
            const auto at = coordinates(receivers[r]);
            inner.resize(c_count * m_count, b_count);
            for (int n = 0; n < n_count; ++n)
                at_receiver[n] = on_n.weight[n] * axis_function(axis[b], on_n.q2[n], at[b]);
            for (int ci = 0; ci < c_count; ++ci) {
                const Complex* g =
                    &green[static_cast<std::size_t>(receiver_c.index[r] * c_count + ci) * m_count *
                           n_count];
                for (int m = 0; m < m_count; ++m) {
                    const Complex left =
                        scale * on_m.weight[m] * axis_function(axis[a], on_m.q2[m], at[a]);
                    float* re = &inner.re[static_cast<std::size_t>(ci * m_count + m) * b_count];
                    float* im = &inner.im[static_cast<std::size_t>(ci * m_count + m) * b_count];
                    for (int n = 0; n < n_count; ++n) {
                        if (g[m * n_count + n] == Complex{0}) break;
                        const Complex v = left * at_receiver[n] * g[m * n_count + n];
                        add_scaled(re, im, static_cast<float>(v.real()),
                                   static_cast<float>(v.imag()), &at_b.re[n * b_count],
                                   &at_b.im[n * b_count], b_count);
                    }
                }
            }
            std::fill(out_re.begin(), out_re.end(), 0.0f);
            std::fill(out_im.begin(), out_im.end(), 0.0f);
            for (const Group& group : groups)
                for (int m = 0; m < m_count; ++m) {
                    const int at_inner = (group.c * m_count + m) * b_count + group.b;
                    add_scaled(&out_re[group.first], &out_im[group.first], inner.re[at_inner],
                               inner.im[at_inner], &at_source.re[m * total + group.first],
                               &at_source.im[m * total + group.first], group.count);
                }
            for (int i = 0; i < total; ++i) result.at(f, r, order[i]) = {out_re[i], out_im[i]};
        }
    });
    add_openings(room, air, frequency, sources, receivers, result);
    return result;
}

}  // namespace boxroom
