#include "picture/isolines.hpp"

#include <array>
#include <cmath>
#include <deque>
#include <map>
#include <optional>
#include <utility>

namespace boxroom {
namespace {

/// A grid edge by its lower end: 2 (iy nx + ix) along x, one more along y. Segments meet on edges,
/// so the edge's number joins them without comparing coordinates.
using Edge = long;

class Marcher {
  public:
    Marcher(const FloorMap& map, double level) : map_(map), level_(level) {}

    void run() {
        for (int iy = 0; iy + 1 < map_.ny; ++iy)
            for (int ix = 0; ix + 1 < map_.nx; ++ix) cell(ix, iy);
    }

    std::vector<Isoline> chains() {
        std::vector<Isoline> out;
        std::vector<bool> used(segments_.size(), false);
        for (std::size_t s = 0; s < segments_.size(); ++s) {
            if (used[s]) continue;
            used[s] = true;
            std::deque<Edge> line{segments_[s].first, segments_[s].second};
            while (const auto next = step(line.back(), used)) line.push_back(*next);
            while (line.front() != line.back()) {
                const auto next = step(line.front(), used);
                if (!next) break;
                line.push_front(*next);
            }
            Isoline points;
            for (const Edge edge : line) points.push_back(crossing(edge));
            out.push_back(std::move(points));
        }
        return out;
    }

  private:
    double value(int ix, int iy) const { return map_.value[index(ix, iy)]; }
    std::size_t index(int ix, int iy) const {
        return std::size_t(iy) * std::size_t(map_.nx) + std::size_t(ix);
    }
    bool usable(int ix, int iy) const {
        return map_.valid[index(ix, iy)] != 0 && std::isfinite(value(ix, iy));
    }

    void cell(int ix, int iy) {
        if (!usable(ix, iy) || !usable(ix + 1, iy) || !usable(ix, iy + 1) ||
            !usable(ix + 1, iy + 1))
            return;
        // Corners round the cell: 0 (0,0), 1 (1,0), 2 (1,1), 3 (0,1); edge i joins corners i and
        // i+1.
        const std::array<double, 4> v{value(ix, iy), value(ix + 1, iy), value(ix + 1, iy + 1),
                                      value(ix, iy + 1)};
        const Edge here = 2 * Edge(index(ix, iy));
        const std::array<Edge, 4> edge{here, 2 * Edge(index(ix + 1, iy)) + 1,
                                       2 * Edge(index(ix, iy + 1)), here + 1};
        std::array<int, 4> cut{};
        int cuts = 0;
        for (int i = 0; i < 4; ++i)
            if ((v[std::size_t(i)] >= level_) != (v[std::size_t((i + 1) % 4)] >= level_))
                cut[std::size_t(cuts++)] = i;
        if (cuts == 2) add(edge[std::size_t(cut[0])], edge[std::size_t(cut[1])]);
        if (cuts == 4) {
            const bool middle = (v[0] + v[1] + v[2] + v[3]) / 4 >= level_;
            // Corner 0 alone on its side: cut it off with edges 3 and 0; else cut off corners 1
            // and 3.
            if ((v[0] >= level_) != middle) {
                add(edge[3], edge[0]);
                add(edge[1], edge[2]);
            } else {
                add(edge[0], edge[1]);
                add(edge[2], edge[3]);
            }
        }
    }

    void add(Edge a, Edge b) {
        for (const Edge edge : {a, b}) at_edge_[edge].push_back(segments_.size());
        segments_.emplace_back(a, b);
    }

    /// The other end of an unused segment at this edge, if there is one.
    std::optional<Edge> step(Edge from, std::vector<bool>& used) const {
        for (const std::size_t s : at_edge_.at(from)) {
            if (used[s]) continue;
            used[s] = true;
            return segments_[s].first == from ? segments_[s].second : segments_[s].first;
        }
        return std::nullopt;
    }

    GridPoint crossing(Edge edge) const {
        const bool along_y = edge % 2 != 0;
        const int ix = int(edge / 2 % map_.nx), iy = int(edge / 2 / map_.nx);
        const double a = value(ix, iy), b = along_y ? value(ix, iy + 1) : value(ix + 1, iy);
        const double t = (level_ - a) / (b - a);
        return along_y ? GridPoint{double(ix), iy + t} : GridPoint{ix + t, double(iy)};
    }

    const FloorMap& map_;
    double level_;
    std::vector<std::pair<Edge, Edge>> segments_;
    std::map<Edge, std::vector<std::size_t>> at_edge_;
};

}  // namespace

std::vector<Isoline> isolines(const FloorMap& map, double level) {
    Marcher marcher(map, level);
    marcher.run();
    return marcher.chains();
}

}  // namespace boxroom
