#include "solvers/modal.hpp"

#include <algorithm>
#include <cmath>
#include <exception>
#include <numbers>
#include <unordered_map>

#include "base/error.hpp"
#include "solvers/axis_modes.hpp"

namespace boxroom {
namespace {

using Complex = std::complex<double>;
constexpr Complex j{0, 1};
constexpr double pi = std::numbers::pi;

std::array<double, 3> coordinates(const Point& p) { return {p.x, p.y, p.z}; }
std::array<double, 3> sides(const Room& room) { return {room.width, room.length, room.height}; }

/// The three axis problems at one frequency.
std::array<AxisProblem, 3> axis_problems(const Room& room, const Air& air, double frequency) {
    const double omega = 2 * pi * frequency;
    std::array<AxisProblem, 3> axis;
    const auto side = sides(room);
    for (int a = 0; a < 3; ++a)
        axis[a] = {side[a], omega / air.speed_of_sound,
                   room.walls[2 * a].admittance(omega, air),
                   room.walls[2 * a + 1].admittance(omega, air)};
    return axis;
}

/// Modes needed along a side so that what is left out has decayed by e^-decay over `distance`.
int modes_needed(double side, double k, double distance, double decay) {
    const double highest = std::hypot(k, decay / distance);
    return static_cast<int>(std::ceil(highest * side / pi)) + 3;
}

void check_inside(const Room& room, std::span<const Point> points, const char* what) {
    for (const Point& p : points)
        if (!room.contains(p))
            throw Error("modal solver", std::string(what) + " lies outside the room",
                        "every point needs 0 <= x <= width, 0 <= y <= length, 0 <= z <= height");
}

/// Runs body(f) for every frequency on all threads; the first exception comes out again.
template <typename Body>
void for_each_frequency(std::size_t count, const Body& body) {
    std::exception_ptr failure;
#pragma omp parallel for schedule(dynamic, 4)
    for (std::size_t f = 0; f < count; ++f) {
        try {
            body(f);
        } catch (...) {
#pragma omp critical
            failure = std::current_exception();
        }
    }
    if (failure) std::rethrow_exception(failure);
}

/// psi_n(x)/sqrt-free normalisation: values[n] = psi_n(x); weight[n] = 1/Lambda_n.
struct AxisTable {
    std::vector<Complex> q2, weight;
};

AxisTable axis_table(const AxisProblem& axis, int count) {
    AxisTable table;
    table.q2 = axis_eigenvalues(axis, count);
    table.weight.resize(count);
    for (int n = 0; n < count; ++n) table.weight[n] = 1.0 / axis_norm(axis, table.q2[n]);
    return table;
}

}  // namespace

TransferImpedance<double> modal_transfer(const Room& room, const Air& air,
                                         std::span<const double> frequency,
                                         std::span<const Point> sources,
                                         std::span<const Point> receivers) {
    check_inside(room, sources, "a source");
    check_inside(room, receivers, "a receiver");
    constexpr double decay = 23;  // e^-23 = 1e-10
    const auto side = sides(room);

    // 1. For every pair, the axis along which the two are furthest apart goes into closed form.
    struct Pair {
        std::size_t source, receiver;
        int axis;
        double distance;
    };
    std::vector<Pair> pairs;
    std::array<double, 3> shortest;  // of the pairs that sum over an axis
    shortest.fill(1e9);
    for (std::size_t r = 0; r < receivers.size(); ++r) {
        for (std::size_t s = 0; s < sources.size(); ++s) {
            const auto a = coordinates(sources[s]), b = coordinates(receivers[r]);
            Pair pair{s, r, 0, 0};
            for (int axis = 0; axis < 3; ++axis)
                if (std::abs(a[axis] - b[axis]) > pair.distance)
                    pair.axis = axis, pair.distance = std::abs(a[axis] - b[axis]);
            if (pair.distance < 0.02)
                throw Error("modal solver", "a source and a receiver are within 2 cm of each other",
                            "move one of them: a point source has infinite pressure at itself");
            pairs.push_back(pair);
            for (int axis = 0; axis < 3; ++axis)
                if (axis != pair.axis) shortest[axis] = std::min(shortest[axis], pair.distance);
        }
    }

    TransferImpedance<double> result(frequency.size(), receivers.size(), sources.size());
    for_each_frequency(frequency.size(), [&](std::size_t f) {
        // 2. The eigenvalues of each axis, as many as the closest pair asks for.
        const auto axis = axis_problems(room, air, frequency[f]);
        const double k = axis[0].k.real();
        std::array<AxisTable, 3> table;
        for (int a = 0; a < 3; ++a)
            if (shortest[a] < 1e8)
                table[a] = axis_table(axis[a], modes_needed(side[a], k, shortest[a], decay));

        // 3. Z = j w rho sum_m sum_n psi_m psi_m/Lambda_m psi_n psi_n/Lambda_n G(kappa_mn).
        const Complex scale = j * 2.0 * pi * frequency[f] * air.density;
        std::array<std::vector<Complex>, 3> product;
        for (const Pair& pair : pairs) {
            const auto from = coordinates(sources[pair.source]);
            const auto to = coordinates(receivers[pair.receiver]);
            const int a = (pair.axis + 1) % 3, b = (pair.axis + 2) % 3, c = pair.axis;
            for (const int summed : {a, b}) {
                const AxisTable& t = table[summed];
                const int needed = std::min<int>(
                    t.q2.size(), modes_needed(side[summed], k, pair.distance, decay));
                product[summed].resize(needed);
                for (int n = 0; n < needed; ++n)
                    product[summed][n] = t.weight[n] *
                                         axis_function(axis[summed], t.q2[n], from[summed]) *
                                         axis_function(axis[summed], t.q2[n], to[summed]);
            }
            Complex sum = 0;
            const double beyond = std::pow(decay / pair.distance + 2 * k, 2);
            for (std::size_t m = 0; m < product[a].size(); ++m) {
                for (std::size_t n = 0; n < product[b].size(); ++n) {
                    const Complex across = table[a].q2[m] + table[b].q2[n];
                    if (across.real() > beyond) break;
                    sum += product[a][m] * product[b][n] *
                           axis_green(axis[c], axis[c].k * axis[c].k - across, from[c], to[c]);
                }
            }
            result.at(f, pair.receiver, pair.source) = scale * sum;
        }
    });
    return result;
}

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
                                             std::span<const Point> receivers) {
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
                closest = std::min(closest,
                                   std::abs(coordinates(r)[axis] - coordinates(s)[axis]));
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
    constexpr double decay = 12;  // e^-12 = 6e-6 before the spreading loss: under 0.001 dB

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
        std::vector<Complex> green(static_cast<std::size_t>(pairs) * m_count * n_count);
        for (int p = 0; p < pairs; ++p) {
            const double from = on_c.value[p % c_count], to = receiver_c.value[p / c_count];
            for (int m = 0; m < m_count; ++m) {
                for (int n = 0; n < n_count; ++n) {
                    const Complex across = on_m.q2[m] + on_n.q2[n];
                    if (across.real() > beyond) break;
                    green[(static_cast<std::size_t>(p) * m_count + m) * n_count + n] =
                        axis_green(axis[c], axis[c].k * axis[c].k - across, from, to);
                }
            }
        }

        // 5. Per receiver: contract n for every distinct b, then m for every source.
        const Complex scale = j * 2.0 * pi * frequency[f] * air.density;
        Planes inner;
        std::vector<float> out_re(total), out_im(total);
        for (std::size_t r = 0; r < receivers.size(); ++r) {
            const auto at = coordinates(receivers[r]);
            inner.resize(c_count * m_count, b_count);
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
                        const Complex v = left * on_n.weight[n] *
                                          axis_function(axis[b], on_n.q2[n], at[b]) *
                                          g[m * n_count + n];
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
    return result;
}

}  // namespace boxroom
