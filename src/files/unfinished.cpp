#include "files/unfinished.hpp"

#include <algorithm>
#include <system_error>

#include "files/staging.hpp"

namespace boxroom {

Unfinished& Unfinished::work() {
    static auto* const all = new Unfinished;  // for as long as any thread runs
    return *all;
}

void Unfinished::begun(const std::filesystem::path& folder) {
    const Hold held = hold();
    folders_.push_back(folder);
}

void Unfinished::done(const std::filesystem::path& folder) {
    const Hold held = hold();
    std::erase(folders_, folder);
}

void Unfinished::take_away() {
    busy_.lock();
    std::error_code ignored;
    for (auto folder = folders_.rbegin(); folder != folders_.rend(); ++folder)
        if (is_staging(*folder))
            std::filesystem::remove_all(*folder, ignored);
        else
            std::filesystem::remove(*folder, ignored);
}

}  // namespace boxroom
