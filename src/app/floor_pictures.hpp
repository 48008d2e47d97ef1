#pragma once
#include <future>
#include <string>
#include <vector>

#include "base/units.hpp"
#include "results/floor_map.hpp"

namespace boxroom {

struct Session;

/// Floor maps that are drawn, each on a thread of its own, while something else is done.
class FloorPictures {
  public:
    /// Begins; takes the maps with it.
    FloorPictures(std::vector<FloorMap> maps, Units units);
    /// Waits for them and writes <name>.png and <name>.vti of each.
    void write(Session& session);

  private:
    struct Drawn {
        std::string name, png, vti;
    };
    std::vector<std::future<Drawn>> drawn_;
};

}  // namespace boxroom
