#pragma once
#include "base/sides.hpp"
#include "files/hdf5_writer.hpp"
#include "files/results_file.hpp"

namespace boxroom {

/// The root attributes that every results file has.
void write_provenance(Hdf5Writer& file, const char* kind, const Provenance& from);
/// /box/* of a ranking: the box that was tried at all spots.
void write_ranked_box(Hdf5Writer& file, double volume, double qtc, const Sides& outer);

}  // namespace boxroom
