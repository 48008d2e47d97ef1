#include "solvers/floor_layout.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <unordered_map>

#include "solvers/modal_parts.hpp"

namespace boxroom {

using modal_parts::coordinates;

namespace {

/// Modes along b for each mode along a, or so: what a coordinate along b costs beside one along a.
constexpr int terms = 20;

int padded(int count) {
    return (count + 7) / 8 * 8;
}

/// Coordinates of the sources along the three axes, in units that make the same place the same.
using RunKey = std::array<long long, 3>;

RunKey key_of(const FloorLayout& layout, const Point& p) {
    const auto at = coordinates(p);
    const auto whole = [](double x) { return std::llround(x * 1e7); };
    return {whole(at[layout.c]), whole(at[layout.b]), whole(at[layout.a])};
}

void choose_axes(FloorLayout& layout, std::span<const Point> sources,
                 std::span<const Point> receivers) {
    for (int axis = 0; axis < 3; ++axis) {
        double closest = 1e9;
        for (const Point& r : receivers)
            for (const Point& s : sources)
                closest = std::min(closest, std::abs(coordinates(r)[axis] - coordinates(s)[axis]));
        if (closest > layout.distance) layout.c = axis, layout.distance = closest;
    }
    layout.a = (layout.c + 1) % 3, layout.b = (layout.c + 2) % 3;
}

/// The sources one by one, those of one height together.
struct Ordered {
    std::span<const Point> sources;
    std::vector<RunKey> key;
    std::vector<int> order;
    bool begins(std::size_t i, int parts) const {  ///< a new one in the first `parts` of the key
        return i == 0 || !std::equal(key[order[i]].begin(), key[order[i]].begin() + parts,
                                     key[order[i - 1]].begin());
    }
};

Ordered in_order(const FloorLayout& layout, std::span<const Point> sources) {
    Ordered in{sources, {}, std::vector<int>(sources.size())};
    for (const Point& p : sources) in.key.push_back(key_of(layout, p));
    std::iota(in.order.begin(), in.order.end(), 0);
    std::sort(in.order.begin(), in.order.end(),
              [&](int x, int y) { return in.key[x] < in.key[y]; });
    return in;
}

/// Whether grouping costs more than taking each source by itself.
bool shares_little(const Ordered& in) {
    int grouped = 0, single = 0, columns = 0, in_group = 0, in_height = 0;
    for (std::size_t i = 0; i <= in.order.size(); ++i) {
        const bool end = i == in.order.size();
        if (end || in.begins(i, 2)) grouped += padded(in_group), in_group = 0;
        if (end || in.begins(i, 1)) {
            grouped += terms * padded(columns), single += (terms + 1) * padded(in_height);
            columns = in_height = 0;
        }
        if (end) break;
        columns += in.begins(i, 2), in_group += in.begins(i, 3), in_height += in.begins(i, 3);
    }
    return grouped > single;
}

/// Repeats the last coordinate up to a whole multiple, for the vectors that run over them.
void fill_up(std::vector<double>& on, std::size_t multiple) {
    while (on.size() % multiple != 0) on.push_back(on.back());
}

/// Ends the height that was begun last, if one was.
void close_height(FloorLayout& layout) {
    fill_up(layout.on_b, 8);
    if (!layout.heights.empty())
        layout.heights.back().columns =
            static_cast<int>(layout.on_b.size()) - layout.heights.back().first_b;
}

void scatter(FloorLayout& layout, const Ordered& in) {
    layout.scattered = true;
    const auto close_both = [&] {
        fill_up(layout.on_a, 8);
        close_height(layout);
    };
    for (std::size_t i = 0; i < in.order.size(); ++i) {
        const auto at = coordinates(in.sources[in.order[i]]);
        if (in.begins(i, 1)) {
            close_both();
            layout.heights.push_back({at[layout.c], static_cast<int>(layout.on_b.size()), 0});
        }
        if (in.begins(i, 3))
            layout.on_a.push_back(at[layout.a]), layout.on_b.push_back(at[layout.b]);
        layout.slot[in.order[i]] = static_cast<int>(layout.on_a.size()) - 1;
    }
    close_both();
    layout.slots = static_cast<int>(layout.on_a.size());
}

/// The coordinates along a of one group.
struct KeyedRun {
    std::vector<long long> key;
    std::vector<double> at;
};

/// Where each group's coordinates stand one after another in `on_a`: the long ones first, since the
/// shorter ones of a floor are parts of them.
void place_runs(FloorLayout& layout, const std::vector<KeyedRun>& runs) {
    std::vector<int> order(runs.size());
    std::iota(order.begin(), order.end(), 0);
    std::stable_sort(order.begin(), order.end(),
                     [&](int x, int y) { return runs[x].key.size() > runs[y].key.size(); });
    std::vector<long long> placed;
    std::unordered_multimap<long long, int> begins;
    for (const int n : order) {
        const KeyedRun& run = runs[n];
        int first = -1;
        for (auto [it, end] = begins.equal_range(run.key[0]); it != end && first < 0; ++it)
            if (it->second + run.key.size() <= placed.size() &&
                std::equal(run.key.begin(), run.key.end(), placed.begin() + it->second))
                first = it->second;
        if (first < 0) {
            first = static_cast<int>(placed.size());
            for (const long long key : run.key) {
                begins.emplace(key, static_cast<int>(placed.size()));
                placed.push_back(key);
            }
            layout.on_a.insert(layout.on_a.end(), run.at.begin(), run.at.end());
        }
        layout.groups[n].first_a = first;
    }
    layout.on_a.resize(layout.on_a.size() + 8, layout.on_a.back());  // for the last one's vectors
}

void group(FloorLayout& layout, const Ordered& in) {
    std::vector<KeyedRun> runs;
    for (std::size_t i = 0; i < in.order.size(); ++i) {
        const auto at = coordinates(in.sources[in.order[i]]);
        if (in.begins(i, 1)) {
            close_height(layout);
            layout.heights.push_back({at[layout.c], static_cast<int>(layout.on_b.size()), 0});
        }
        if (in.begins(i, 2)) {
            const int column = static_cast<int>(layout.on_b.size()) - layout.heights.back().first_b;
            layout.on_b.push_back(at[layout.b]);
            layout.slots = padded(layout.slots);
            layout.groups.push_back(
                {static_cast<int>(layout.heights.size()) - 1, column, 0, layout.slots, 0});
            runs.emplace_back();
        }
        if (in.begins(i, 3)) {
            runs.back().key.push_back(in.key[in.order[i]][2]);
            runs.back().at.push_back(at[layout.a]);
            ++layout.slots;
        }
        layout.slot[in.order[i]] = layout.slots - 1;
        layout.groups.back().slots = padded(static_cast<int>(runs.back().key.size()));
    }
    close_height(layout);
    layout.slots = padded(layout.slots);
    place_runs(layout, runs);
}

void find_runs(FloorLayout& layout) {
    for (const int slot : layout.slot)
        if (!layout.runs.empty() && slot == layout.runs.back().slot + layout.runs.back().count)
            ++layout.runs.back().count;
        else
            layout.runs.push_back({slot, 1});
}

}  // namespace

FloorLayout lay_out_floor(std::span<const Point> sources, std::span<const Point> receivers) {
    FloorLayout layout;
    choose_axes(layout, sources, receivers);
    layout.slot.resize(sources.size());
    const Ordered in = in_order(layout, sources);
    shares_little(in) ? scatter(layout, in) : group(layout, in);
    find_runs(layout);
    fill_up(layout.on_a, 16);
    fill_up(layout.on_b, 16);
    return layout;
}

}  // namespace boxroom
