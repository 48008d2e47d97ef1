#pragma once
#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace boxroom {

/// Bytes in pieces, one after another, that lie where they are: tens of megabytes need not be
/// brought together. Copies share what holds them.
struct Pieces {
    std::vector<std::string_view> piece;
    std::shared_ptr<const void> holder;

    Pieces() = default;
    explicit Pieces(std::string bytes) {
        const auto held = std::make_shared<const std::string>(std::move(bytes));
        piece = {*held};
        holder = held;
    }
    std::size_t size() const {
        std::size_t sum = 0;
        for (const std::string_view one : piece) sum += one.size();
        return sum;
    }
    std::string joined() const {
        std::string bytes;
        bytes.reserve(size());
        for (const std::string_view one : piece) bytes += one;
        return bytes;
    }
};

}  // namespace boxroom
