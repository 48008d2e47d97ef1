// A driver's impedance curve: fitted or refused; what is fitted is finite and positive.
#include "measured/impedance.hpp"

#include <cmath>
#include <stdexcept>
#include <string>

#include "base/error.hpp"
#include "harness.hpp"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace boxroom;
    if (size > 8000) return 0;  // a fit takes longer than the search for what it does
    try {
        const Curve curve = parse_curve(std::string(fuzz::bytes(data, size)), "ohms.csv",
                                        CurveColumn{"impedance_ohm", 0.1, 10000});
        const Circuit c = fit_circuit(curve, "ohms.csv").circuit;
        for (const double value : {c.re, c.motion, c.resonance, c.qm, c.qe(), c.qt()})
            if (!(value > 0) || !std::isfinite(value))
                throw std::logic_error("a driver that cannot be");
    } catch (const Error&) {
    }
    return 0;
}
