// Quantities with their units, as in room files and behind options: read or refused; what is read
// is finite, and written in its unit it is read again as the same to the digits that are written.
#include "base/units.hpp"

#include <cmath>
#include <stdexcept>
#include <string>

#include "base/error.hpp"
#include "harness.hpp"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace boxroom;
    if (size == 0) return 0;
    constexpr auto kinds = static_cast<unsigned>(Quantity::specific_stiffness) + 1;
    const auto quantity = static_cast<Quantity>(data[0] % kinds);
    const std::string_view text = fuzz::bytes(data + 1, size - 1);
    try {
        const double value = parse_quantity(text, quantity);
        if (!std::isfinite(value)) throw std::logic_error("a quantity that is no number");
        const std::string written = format_quantity(value, quantity, written_unit(text, quantity));
        if (!std::isfinite(parse_quantity(written, quantity)))
            throw std::logic_error("a quantity that cannot be written");
    } catch (const Error&) {
    }
    return 0;
}
