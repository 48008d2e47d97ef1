#pragma once
#include <optional>
#include <string>

#include "app/commands.hpp"

namespace boxroom {

/// What `driver` alone is told; the request's file is the curve in free air.
struct DriverOptions {
    std::optional<std::string> box, boxed;     ///< --box "12 L" --boxed CURVE.csv
    std::optional<std::string> mass, weighed;  ///< --mass "20 g" --weighed CURVE.csv
    std::optional<std::string> sd, qtc;
    bool in_box = false;
};

Answer run_driver(const Request&, const DriverOptions&);
Answer run_sweep(const Request&);
Answer run_fit(const Request&);

}  // namespace boxroom
