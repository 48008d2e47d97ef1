#include "solvers/prepared_room.hpp"

#include <algorithm>
#include <cmath>

#include "solvers/modal.hpp"
#include "solvers/modal_parts.hpp"

namespace boxroom {

using namespace modal_parts;

namespace {

constexpr double nearest_heights = 0.30;  // [m]
constexpr double decay = 14;              // what is left out has decayed to e^-14 = 8e-7
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
    heights_.clear();
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
    heights_.clear();
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

const PreparedRoom::Heights& PreparedRoom::heights(double source, double receiver) {
    const auto [entry, is_new] = heights_.try_emplace({source, receiver});
    Heights& g = entry->second;
    if (!is_new) return g;
    const auto side = sides(room_);
    const double distance = std::abs(source - receiver);
    g.rows = axis_[0].count;
    g.first.resize(frequency_.size());
    g.row_end.assign(frequency_.size() * g.rows, 0);

    // 1. How many terms each frequency has, so that they can be filled in side by side.
    std::size_t total = 0;
    for (std::size_t f = 0; f < frequency_.size(); ++f) {
        g.first[f] = static_cast<int>(total);
        const double k = 2 * pi * frequency_[f] / air_.speed_of_sound;
        const double beyond = std::pow(decay / distance, 2) + k * k;
        const int m_count = std::min(g.rows, modes_needed(side[0], k, distance, decay));
        const int n_count = std::min(axis_[1].count, modes_needed(side[1], k, distance, decay));
        for (int m = 0; m < m_count; ++m) {
            int& n = g.row_end[f * g.rows + m];
            while (n < n_count &&
                   (axis_[0].q2[f * g.rows + m] + axis_[1].q2[f * axis_[1].count + n]).real() <=
                       beyond)
                ++n;
            total += n;
        }
    }

    // 2. The closed form, with all that does not depend on the points: j w rho/(Lambda Lambda) G.
    g.re.resize(total), g.im.resize(total);
    for_each_frequency(frequency_.size(), [&](std::size_t f) {
        const AxisProblem z = axis_problems(room_, air_, frequency_[f])[2];
        const Complex scale = j * 2.0 * pi * frequency_[f] * air_.density;
        std::size_t at = g.first[f];
        for (int m = 0; m < g.rows; ++m) {
            const std::size_t im = f * g.rows + m;
            for (int n = 0; n < g.row_end[im]; ++n, ++at) {
                const std::size_t in = f * axis_[1].count + n;
                const Complex across = axis_[0].q2[im] + axis_[1].q2[in];
                const Complex value = scale * axis_[0].weight[im] * axis_[1].weight[in] *
                                      axis_green(z, z.k * z.k - across, source, receiver);
                g.re[at] = value.real(), g.im[at] = value.imag();
            }
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

    // 1. Enough modes for the pair that is nearest in height, of those that go this way.
    const auto apart = [](const Point& a, const Point& b) { return std::abs(a.z - b.z); };
    double nearest = HUGE_VAL;
    for (const Point& s : sources)
        for (const Point& r : receivers)
            if (apart(s, r) >= nearest_heights) nearest = std::min(nearest, apart(s, r));
    if (nearest < HUGE_VAL) {
        const double k =
            2 * pi * *std::max_element(frequency_.begin(), frequency_.end()) / air_.speed_of_sound;
        const auto side = sides(room_);
        for (int axis : {0, 1}) prepare_axis(axis, modes_needed(side[axis], k, nearest, decay));
    }
    for (int axis : {0, 1})
        if (lines_[axis].size() > lines_kept) lines_[axis].clear();
    if (heights_.size() > heights_kept) heights_.clear();

    // 2. Pair by pair; std::map keeps its entries in place while others are added.
    for (std::size_t r = 0; r < receivers.size(); ++r) {
        for (std::size_t s = 0; s < sources.size(); ++s) {
            const Point &from = sources[s], &to = receivers[r];
            if (apart(from, to) < nearest_heights) {
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
