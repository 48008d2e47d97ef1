#include "app/floor_pictures.hpp"

#include <utility>

#include "app/drawing.hpp"
#include "app/session.hpp"

namespace boxroom {

FloorPictures::FloorPictures(std::vector<FloorMap> maps, Units units) {
    for (FloorMap& map : maps)
        drawn_.push_back(std::async(std::launch::async, [map = std::move(map), units] {
            return Drawn{map.name, drawing().floor_map_png(map, units),
                         drawing().floor_map_vti(map)};
        }));
}

void FloorPictures::write(Session& session) {
    for (std::size_t m = 0; m < drawn_.size(); ++m) {
        session.say("drawing", 0.6 + 0.4 * double(m) / double(drawn_.size()));
        const double start = seconds_now();
        const Drawn map = drawn_[m].get();
        const double there = seconds_now();
        session.results.write(map.name + ".png", map.png);
        session.results.write(map.name + ".vti", map.vti);
        session.timings["pictures"] += there - start;
        session.timings["write"] += seconds_now() - there;
    }
}

}  // namespace boxroom
