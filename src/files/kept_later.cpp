#include "files/kept_later.hpp"

#include <system_error>

namespace boxroom {

void KeptLater::write(std::string key, Pieces bytes) {
    try {
        last_ = std::async(std::launch::async, [kept = kept_, before = std::move(last_),
                                                key = std::move(key), bytes = std::move(bytes)] {
            if (before.valid()) before.wait();
            kept.write(key, bytes);
        });
    } catch (const std::system_error&) {
        // There is no thread to be had, and what cannot be kept is not.
    }
}

}  // namespace boxroom
