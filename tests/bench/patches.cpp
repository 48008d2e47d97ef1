// How far the mean admittance of a wall of parts is from the parts where they are.
//
// Ten rooms, each with a window and a door in two of its walls, on the grid twice: with the parts'
// own admittance in their rectangles, and with the wall's mean. Same grid, so that its own error
// drops out. Prints RMS and largest difference of the level at three seats, 20 to 120 Hz.
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <random>

#include "base/frequency_grid.hpp"
#include "solvers/constructions.hpp"
#include "solvers/grid.hpp"

using namespace boxroom;

namespace {

const Air air;

Wall made_of(const char* name) {
    return wall_from_construction(find_construction(name), air);
}

/// A part of a wall in its place: along x or y, and up.
struct Patch {
    int wall = 0;
    double from = 0, to = 0, low = 0, high = 0;
    Wall made{};
    double area() const { return (to - from) * (high - low); }
};

struct Case {
    Room room;  ///< with the mean
    std::vector<Patch> patches;
    std::vector<Wall> plain;  ///< what is around the patches
};

Case draw(std::mt19937& random) {
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<>(low, high)(random);
    };
    Case c{{between(3, 5.5), between(3.5, 7), between(2.35, 2.7), {}, {}}, {}, {}};
    const bool heavy = between(0, 1) < 0.7;
    c.plain.assign(6, made_of(heavy ? "brick, plastered" : "plasterboard on studs, double"));
    c.plain[floor_wall] = made_of(heavy ? "parquet on concrete" : "wood floor on joists");
    c.room.contents = contents_of(find_named_contents("furnished"), c.room.width * c.room.length);
    const int of_window = static_cast<int>(between(0, 3.999));
    const int of_door = (of_window + 1 + static_cast<int>(between(0, 2.999))) % 4;
    const auto place = [&](int wall, double wide, double low, double high, const char* made) {
        const double side = wall < front_wall ? c.room.length : c.room.width;
        const double from = between(0.1, side - wide - 0.1);
        c.patches.push_back({wall, from, from + wide, low, high, made_of(made)});
    };
    place(of_window, between(1.2, 2.4), 0.85, 2.15,
          between(0, 1) < 0.5 ? "window glass, single" : "window glass, double");
    place(of_door, 0.85, 0.0, 2.0, "solid door");
    for (int w = 0; w < 6; ++w) {
        const double across = w < 2   ? c.room.length * c.room.height
                              : w < 4 ? c.room.width * c.room.height
                                      : c.room.width * c.room.length;
        std::vector<WallPart> parts{{c.plain[w], 0, {}}};
        for (const Patch& patch : c.patches)
            if (patch.wall == w) parts.push_back({patch.made, patch.area(), {}});
        c.room.walls[w] = mean_wall(parts, across);
    }
    return c;
}

/// The grid with every part in its place. A patch takes the cells whose centres it covers and
/// counts with its true area; so does what is left of its wall.
GridShape with_patches(const Case& c, double spacing) {
    Room bare = c.room;
    for (int w = 0; w < 6; ++w) bare.walls[w] = c.plain[w];
    GridShape shape = grid_of_room(bare, spacing);
    for (const Patch& patch : c.patches) shape.surfaces.push_back({patch.made, 1});
    const auto h = shape.spacing;
    const auto owner = [patches = c.patches, h](int x, int y, int z, int direction) {
        const double along = direction < 2 ? (y + 0.5) * h[1] : (x + 0.5) * h[0];
        const double up = (z + 0.5) * h[2];
        for (std::size_t n = 0; n < patches.size(); ++n) {
            const Patch& p = patches[n];
            if (p.wall == direction && along > p.from && along < p.to && up > p.low && up < p.high)
                return 6 + static_cast<int>(n);
        }
        return direction;
    };
    for (std::size_t n = 0; n < c.patches.size(); ++n) {
        const Patch& patch = c.patches[n];
        const int along = patch.wall < front_wall ? 1 : 0;
        double covered = 0;
        for (int i = 0; i < shape.cells[along]; ++i)
            for (int z = 0; z < shape.cells[2]; ++z)
                if (owner(along ? 0 : i, along ? i : 0, z, patch.wall) == 6 + static_cast<int>(n))
                    covered += h[along] * h[2];
        const double wall = shape.cells[along] * h[along] * shape.cells[2] * h[2];
        shape.surfaces[6 + n].area_scale = patch.area() / covered;
        shape.surfaces[patch.wall].area_scale = (wall - patch.area()) / (wall - covered);
    }
    shape.surface = owner;
    return shape;
}

}  // namespace

int main() {
    std::mt19937 random(11);
    const auto frequency = logarithmic_grid({20, 120}, 48);
    double total = 0, worst = 0, worst_above_null = 0;
    std::size_t count = 0;
    std::printf("room                  windows and doors   RMS dB   largest dB   but for nulls\n");
    for (int n = 0; n < 10; ++n) {
        const Case c = draw(random);
        const Room& room = c.room;
        const std::vector<Point> sub{{0.35, 0.4, 0.25}},
            seats{{0.5 * room.width, 0.7 * room.length, 1.1},
                  {0.3 * room.width, 0.72 * room.length, 1.1},
                  {0.75 * room.width, 0.4 * room.length, 1.15}};
        GridOptions options;
        options.spacing = 0.1, options.left_db = 0.01;
        const auto mean =
            grid_transfer(grid_of_room(room, options.spacing), air, frequency, sub, seats, options);
        const auto parts =
            grid_transfer(with_patches(c, options.spacing), air, frequency, sub, seats, options);
        double sum = 0, largest = 0, largest_above_null = 0, area = 0;
        for (const Patch& patch : c.patches) area += patch.area();
        for (std::size_t r = 0; r < seats.size(); ++r) {
            std::vector<double> level;
            for (std::size_t f = 0; f < frequency.size(); ++f)
                level.push_back(20 * std::log10(std::abs(parts.at(f, r, 0))));
            std::vector<double> sorted = level;
            std::sort(sorted.begin(), sorted.end());
            for (std::size_t f = 0; f < frequency.size(); ++f) {
                const double d = std::abs(20 * std::log10(std::abs(mean.at(f, r, 0))) - level[f]);
                sum += d * d;
                largest = std::max(largest, d);
                if (level[f] > sorted[sorted.size() / 2] - 15)
                    largest_above_null = std::max(largest_above_null, d);
            }
        }
        const std::size_t here = frequency.size() * seats.size();
        std::printf("%.2f x %.2f x %.2f m   %5.1f m2           %6.2f   %6.2f       %6.2f\n",
                    room.width, room.length, room.height, area, std::sqrt(sum / here), largest,
                    largest_above_null);
        std::fflush(stdout);
        total += sum, count += here;
        worst = std::max(worst, largest);
        worst_above_null = std::max(worst_above_null, largest_above_null);
    }
    std::printf("all: RMS %.2f dB, largest %.2f dB, %.2f dB but for nulls 15 dB below the median\n",
                std::sqrt(total / count), worst, worst_above_null);
}
