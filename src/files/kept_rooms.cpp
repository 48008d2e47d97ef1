#include "files/kept_rooms.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <fstream>
#include <string_view>
#include <system_error>
#include <vector>

#include "files/sha256.hpp"
#include "files/unfinished.hpp"
#include "files/write_all.hpp"

namespace boxroom {

namespace fs = std::filesystem;

namespace {

constexpr std::string_view mark = "boxroom solved room\n";
constexpr std::string_view ending = ".room", unfinished = ".unfinished-XXXXXX";
constexpr std::size_t sum_length = 64;

}  // namespace

fs::path KeptRooms::usual_folder() {
    if (const char* cache = std::getenv("XDG_CACHE_HOME"); cache && fs::path(cache).is_absolute())
        return fs::path(cache) / "boxroom";
    if (const char* home = std::getenv("HOME"); home && fs::path(home).is_absolute())
        return fs::path(home) / ".cache" / "boxroom";
    return {};
}

fs::path KeptRooms::path_of(const std::string& key) const {
    return folder_ / (sha256(key) + std::string(ending));
}

std::optional<std::string> KeptRooms::read(const std::string& key) const {
    if (folder_.empty()) return {};
    const fs::path path = path_of(key);
    std::error_code error;
    if (!fs::is_regular_file(path, error)) return {};
    const std::uintmax_t size = fs::file_size(path, error);
    if (error || size > most_) return {};
    std::ifstream file(path, std::ios::binary);
    const auto next = [&file](std::size_t length) {
        std::string text(length, '\0');
        file.read(text.data(), static_cast<std::streamsize>(length));
        return text;
    };
    const std::size_t head = mark.size() + sum_length + key.size();
    if (size < head || next(mark.size()) != mark) return {};
    const std::string sum = next(sum_length);
    if (next(key.size()) != key) return {};
    std::string bytes = next(size - head);  // tens of megabytes: no second copy is made
    if (!file || sha256(std::vector<std::string_view>{key, bytes}) != sum) return {};
    fs::last_write_time(path, fs::file_time_type::clock::now(), error);  // used just now
    return bytes;
}

void KeptRooms::write(const std::string& key, const Pieces& bytes) const {
    std::error_code error;
    if (folder_.empty() || bytes.size() > most_) return;
    if (fs::create_directories(folder_, error); error) return;
    const auto hold = Unfinished::work().hold();  // a signal waits the moment that this takes
    std::string temporary = (folder_ / unfinished).string();
    const int descriptor = ::mkstemp(temporary.data());
    if (descriptor < 0) return;
    std::vector<std::string_view> summed{key};
    summed.insert(summed.end(), bytes.piece.begin(), bytes.piece.end());
    const bool whole =
        write_all(descriptor, mark) == 0 && write_all(descriptor, sha256(summed)) == 0 &&
        std::ranges::all_of(
            summed, [&](std::string_view piece) { return write_all(descriptor, piece) == 0; });
    if (::close(descriptor) == 0 && whole) fs::rename(temporary, path_of(key), error);
    if (!whole || error) fs::remove(temporary, error);
    make_room();
}

/// Takes away what is too much, and what a run that was killed left an hour ago.
void KeptRooms::make_room() const {
    struct File {
        fs::path path;
        fs::file_time_type used;
        std::uintmax_t size;
    };
    std::vector<File> files;
    std::error_code error;
    for (fs::directory_iterator at(folder_, error), end; !error && at != end; at.increment(error)) {
        const std::string name = at->path().filename().string();
        std::error_code gone;
        const auto used = fs::last_write_time(at->path(), gone);
        const std::uintmax_t size = fs::file_size(at->path(), gone);
        if (gone) continue;
        const bool left_over = name.starts_with(unfinished.substr(0, 12)) &&
                               fs::file_time_type::clock::now() - used > std::chrono::hours(1);
        if (left_over) fs::remove(at->path(), gone);
        if (name.ends_with(ending)) files.push_back({at->path(), used, size});
    }
    std::ranges::sort(files, std::ranges::greater{}, &File::used);
    std::uintmax_t all = 0;
    for (const File& file : files)
        if ((all += file.size) > most_) fs::remove(file.path, error);
}

}  // namespace boxroom
