#include "solvers/prepared_room.hpp"

#include <algorithm>
#include <cmath>

#include "solvers/modal.hpp"
#include "solvers/modal_parts.hpp"

namespace boxroom {

using namespace modal_parts;

namespace {

constexpr double decayed = 14;  // what is left out has decayed to e^-14 = 8e-7
constexpr std::size_t lines_kept = 64, heights_kept = 12;

}  // namespace

PreparedRoom::PreparedRoom(const Room& room, const Air& air, std::span<const double> frequency)
    : room_(room), air_(air), frequency_(frequency.begin(), frequency.end()) {
    if (!room.is_rectangle())
        throw Error("modal solver", "what follows a drag can only be a shut rectangle",
                    "use `listen` or `map`, which work in any room");
}

void PreparedRoom::set_wall(int index, const Wall& wall) {
    room_.walls[index] = wall;
    terms_ = {};
    if (index >= floor_wall) return;
    axis_[index / 2] = {};
    lines_[index / 2].clear();
}

/// At least `count` modes along x (0) or y (1).
void PreparedRoom::prepare_axis(int axis, int count) {
    Axis& a = axis_[axis];
    if (a.count >= count) return;
    a.count = count;
    a.q2.resize(frequency_.size() * count);
    a.weight.resize(a.q2.size());
    for_each_frequency(frequency_.size(), [&](std::size_t f) {
        const AxisTable table = axis_table(axis_problems(room_, air_, frequency_[f])[axis], count);
        std::copy(table.q2.begin(), table.q2.end(), a.q2.begin() + f * count);
        std::copy(table.weight.begin(), table.weight.end(), a.weight.begin() + f * count);
    });
    lines_[axis].clear();
}

const PreparedRoom::Line& PreparedRoom::line(int axis, double coordinate) {
    const auto [entry, is_new] = lines_[axis].try_emplace(coordinate);
    Line& line = entry->second;
    if (!is_new) return line;
    const Axis& a = axis_[axis];
    line.count = a.count;
    line.re.resize(frequency_.size() * a.count);
    line.im.resize(line.re.size());
    for_each_frequency(frequency_.size(), [&](std::size_t f) {
        const AxisProblem problem = axis_problems(room_, air_, frequency_[f])[axis];
        for (int n = 0; n < a.count; ++n) {
            const std::size_t i = f * a.count + n;
            const Complex psi = axis_function(problem, a.q2[i], coordinate);
            line.re[i] = psi.real(), line.im[i] = psi.imag();
        }
    });
    return line;
}

/// Below this the sum converges slowly; and the factors of its terms, which reach
/// e^(decayed H/distance), must stay within a double's range.
double PreparedRoom::nearest_heights() const {
    return std::max(0.30, 0.05 * room_.height);
}

/// The terms of all pairs that are at least this far apart in height.
void PreparedRoom::prepare_terms(double distance) {
    if (terms_.distance <= distance) return;
    // A little more than asked for, so that heights that creep nearer do not begin anew each time.
    terms_.distance = std::max(nearest_heights(), 0.8 * distance);
    const double k =
        2 * pi * *std::max_element(frequency_.begin(), frequency_.end()) / air_.speed_of_sound;
    const auto side = sides(room_);
    for (int axis : {0, 1})
        prepare_axis(axis, modes_needed(side[axis], k, terms_.distance, decayed));
    below_.clear(), above_.clear(), heights_.clear();
    terms_.rows = axis_[0].count;
    const std::size_t total = count_terms(terms_.distance, terms_.first, terms_.row_end);

    // What does not depend on the heights: j w rho/(Lambda Lambda) and the Green's function.
    terms_.green.assign(total, AxisGreen(axis_problems(room_, air_, frequency_[0])[2], 1.0));
    terms_.scale.resize(total);
    for_each_frequency(frequency_.size(), [&](std::size_t f) {
        const AxisProblem z = axis_problems(room_, air_, frequency_[f])[2];
        const Complex scale = source_factor(room_, air_, frequency_[f]);
        std::size_t at = terms_.first[f];
        for (int m = 0; m < terms_.rows; ++m) {
            const std::size_t im = f * terms_.rows + m;
            for (int n = 0; n < terms_.row_end[im]; ++n, ++at) {
                const std::size_t in = f * axis_[1].count + n;
                terms_.green[at] = AxisGreen(z, z.k * z.k - axis_[0].q2[im] - axis_[1].q2[in]);
                terms_.scale[at] = scale * axis_[0].weight[im] * axis_[1].weight[in];
            }
        }
    });
}

/// How many n each frequency and m has before they have decayed, over this distance, and where each
/// frequency's terms start.
std::size_t PreparedRoom::count_terms(double distance, std::vector<int>& first,
                                      std::vector<int>& row_end) const {
    const auto side = sides(room_);
    const int rows = axis_[0].count;
    first.resize(frequency_.size());
    row_end.assign(frequency_.size() * rows, 0);
    std::size_t total = 0;
    for (std::size_t f = 0; f < frequency_.size(); ++f) {
        first[f] = static_cast<int>(total);
        const double k = 2 * pi * frequency_[f] / air_.speed_of_sound;
        const double beyond = std::pow(decayed / distance, 2) + k * k;
        const int m_count = std::min(rows, modes_needed(side[0], k, distance, decayed));
        const int n_count = std::min(axis_[1].count, modes_needed(side[1], k, distance, decayed));
        for (int m = 0; m < m_count; ++m) {
            int& n = row_end[f * rows + m];
            while (n < n_count &&
                   (axis_[0].q2[f * rows + m] + axis_[1].q2[f * axis_[1].count + n]).real() <=
                       beyond)
                ++n;
            total += n;
        }
    }
    return total;
}

/// One of the two factors of every term's Green's function, at one height.
const std::vector<Complex>& PreparedRoom::factor(bool above, double height) {
    auto& kept = above ? above_ : below_;
    const auto [entry, is_new] = kept.try_emplace(height);
    std::vector<Complex>& values = entry->second;
    if (!is_new) return values;
    values.resize(terms_.green.size());
    for_each_frequency(frequency_.size(), [&](std::size_t f) {
        const std::size_t end =
            f + 1 < frequency_.size() ? terms_.first[f + 1] : terms_.green.size();
        for (std::size_t i = terms_.first[f]; i < end; ++i)
            values[i] = above ? terms_.green[i].above(height) * terms_.scale[i]
                              : terms_.green[i].below(height);
    });
    return values;
}

const PreparedRoom::Heights& PreparedRoom::heights(double source, double receiver) {
    const auto [entry, is_new] = heights_.try_emplace({source, receiver});
    Heights& g = entry->second;
    if (!is_new) return g;
    g.rows = terms_.rows;
    const std::size_t total = count_terms(std::abs(source - receiver), g.first, g.row_end);
    g.re.resize(total), g.im.resize(total);
    const auto& below = factor(false, std::min(source, receiver));
    const auto& above = factor(true, std::max(source, receiver));
    for_each_frequency(frequency_.size(), [&](std::size_t f) {
        std::size_t at = g.first[f], from = terms_.first[f];
        for (int m = 0; m < g.rows; ++m) {
            const std::size_t im = f * g.rows + m;
            for (int n = 0; n < g.row_end[im]; ++n, ++at) {
                const Complex &b = below[from + n], &a = above[from + n];
                g.re[at] = a.real() * b.real() - a.imag() * b.imag();
                g.im[at] = a.real() * b.imag() + a.imag() * b.real();
            }
            from += terms_.row_end[im];
        }
    });
    return g;
}

/// sum_m psi_m(x) psi_m(x') sum_n psi_n(y) psi_n(y') G_mn for one frequency.
Complex PreparedRoom::sum(std::size_t f, const Heights& g, const Line& source_x,
                          const Line& source_y, const Line& receiver_x,
                          const Line& receiver_y) const {
    // The products along y are the same for every m.
    const int n_count = source_y.count;
    thread_local std::vector<double> yr, yi;
    yr.resize(n_count), yi.resize(n_count);
    const double *ar = &source_y.re[f * n_count], *ai = &source_y.im[f * n_count],
                 *br = &receiver_y.re[f * n_count], *bi = &receiver_y.im[f * n_count];
    const int widest = g.row_end[f * g.rows];
    for (int n = 0; n < widest; ++n) {
        yr[n] = ar[n] * br[n] - ai[n] * bi[n];
        yi[n] = ar[n] * bi[n] + ai[n] * br[n];
    }
    const double *gr = &g.re[g.first[f]], *gi = &g.im[g.first[f]];
    Complex total = 0;
    for (int m = 0; m < g.rows; ++m) {
        const int count = g.row_end[f * g.rows + m];
        if (count == 0) break;
        // Two running sums each, for the processor to work on side by side.
        double re0 = 0, im0 = 0, re1 = 0, im1 = 0;
        int n = 0;
        for (; n + 1 < count; n += 2) {
            re0 += yr[n] * gr[n] - yi[n] * gi[n];
            im0 += yr[n] * gi[n] + yi[n] * gr[n];
            re1 += yr[n + 1] * gr[n + 1] - yi[n + 1] * gi[n + 1];
            im1 += yr[n + 1] * gi[n + 1] + yi[n + 1] * gr[n + 1];
        }
        if (n < count) {
            re0 += yr[n] * gr[n] - yi[n] * gi[n];
            im0 += yr[n] * gi[n] + yi[n] * gr[n];
        }
        gr += count, gi += count;
        const std::size_t at = f * g.rows + m;
        const Complex across = Complex{source_x.re[at], source_x.im[at]} *
                               Complex{receiver_x.re[at], receiver_x.im[at]};
        total += across * Complex{re0 + re1, im0 + im1};
    }
    return total;
}

TransferImpedance<double> PreparedRoom::transfer(std::span<const Point> sources,
                                                 std::span<const Point> receivers) {
    check_inside(room_, sources, "a source");
    check_inside(room_, receivers, "a receiver");
    TransferImpedance<double> result(frequency_.size(), receivers.size(), sources.size());
    if (result.value.empty()) return result;

    // 1. Enough terms for the pair that is nearest in height, of those that go this way.
    const auto apart = [](const Point& a, const Point& b) { return std::abs(a.z - b.z); };
    const double least = nearest_heights();
    double nearest = HUGE_VAL;
    for (const Point& s : sources)
        for (const Point& r : receivers)
            if (apart(s, r) >= least) nearest = std::min(nearest, apart(s, r));
    if (nearest < HUGE_VAL) prepare_terms(nearest);
    for (int axis : {0, 1})
        if (lines_[axis].size() > lines_kept) lines_[axis].clear();
    if (heights_.size() > heights_kept) heights_.clear();
    for (auto* kept : {&below_, &above_})
        if (kept->size() > heights_kept) kept->clear();

    // 2. Pair by pair; std::map keeps its entries in place while others are added.
    for (std::size_t r = 0; r < receivers.size(); ++r) {
        for (std::size_t s = 0; s < sources.size(); ++s) {
            const Point &from = sources[s], &to = receivers[r];
            if (apart(from, to) < least) {
                const auto exact = modal_transfer(room_, air_, frequency_, {&from, 1}, {&to, 1});
                for (std::size_t f = 0; f < frequency_.size(); ++f)
                    result.at(f, r, s) = exact.at(f, 0, 0);
                continue;
            }
            const Heights& g = heights(from.z, to.z);
            const Line &from_x = line(0, from.x), &from_y = line(1, from.y), &to_x = line(0, to.x),
                       &to_y = line(1, to.y);
            for (std::size_t f = 0; f < frequency_.size(); ++f)
                result.at(f, r, s) = sum(f, g, from_x, from_y, to_x, to_y);
        }
    }
    return result;
}

}  // namespace boxroom
