#include "files/results_head.hpp"

namespace boxroom {

void write_provenance(Hdf5Writer& file, const char* kind, const Provenance& from) {
    file.attribute("/", "program", std::string("boxroom"));
    file.attribute("/", "kind", std::string(kind));
    file.attribute("/", "version", from.version);
    file.attribute("/", "solver", from.solver);
    file.attribute("/", "input", from.input_text);
}

void write_ranked_box(Hdf5Writer& file, double volume, double qtc, const Sides& outer) {
    file.number("/box/volume", volume, {"m3", "net volume"});
    file.number("/box/qtc", qtc, {"1", "total Q in the box"});
    const std::vector<double> size{outer.width, outer.depth, outer.height};
    file.numbers("/box/outer_size", size, {3}, {"m", "outer width, depth and height"});
}

}  // namespace boxroom
