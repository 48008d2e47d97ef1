// Solved rooms in the cache folder: whole and as they were, or not there.
#include <sys/stat.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>
#include <thread>
#include <vector>

#include "files/kept_later.hpp"
#include "files/kept_rooms.hpp"

namespace fs = std::filesystem;
using boxroom::KeptRooms;
using boxroom::Pieces;

namespace {

struct Folder {
    fs::path path;
    Folder() {
        std::string name = (fs::temp_directory_path() / "kept-XXXXXX").string();
        path = ::mkdtemp(name.data());
    }
    ~Folder() { fs::remove_all(path); }
    std::vector<fs::path> files() const {
        std::vector<fs::path> all;
        for (const auto& entry : fs::directory_iterator(path)) all.push_back(entry.path());
        return all;
    }
};

void change_byte(const fs::path& file, std::uintmax_t at) {
    std::fstream stream(file, std::ios::binary | std::ios::in | std::ios::out);
    stream.seekg(static_cast<std::streamoff>(at));
    const char was = static_cast<char>(stream.get());
    stream.seekp(static_cast<std::streamoff>(at));
    stream.put(static_cast<char>(was ^ 1));
}

}  // namespace

TEST_CASE("Kept rooms: what was written is read, by its own key alone") {
    const Folder folder;
    const KeptRooms kept(folder.path / "new" / "one");
    CHECK_FALSE(kept.read("a"));
    kept.write("a", Pieces(std::string("one\0two", 7)));
    CHECK(kept.read("a") == std::string("one\0two", 7));
    CHECK_FALSE(kept.read("b"));
    kept.write("a", Pieces("three"));
    CHECK(kept.read("a") == "three");
}

TEST_CASE("Kept rooms: damaged, cut short, longer or another's is not there") {
    const Folder folder;
    const KeptRooms kept(folder.path);
    kept.write("key of version 1", Pieces(std::string(1000, 'x')));
    const fs::path file = folder.files().at(0);
    const std::uintmax_t size = fs::file_size(file);
    for (const std::uintmax_t at : {std::uintmax_t{0}, std::uintmax_t{30}, size / 2, size - 1}) {
        change_byte(file, at);
        CHECK_FALSE(kept.read("key of version 1"));
        change_byte(file, at);
    }
    CHECK(kept.read("key of version 1"));
    std::ofstream(file, std::ios::app) << "y";
    CHECK_FALSE(kept.read("key of version 1"));
    for (const std::uintmax_t length :
         {size - 1, size / 2, std::uintmax_t{84}, std::uintmax_t{0}}) {
        fs::resize_file(file, length);
        CHECK_FALSE(kept.read("key of version 1"));
    }
    // A file under another's name is another's, whatever it holds.
    kept.write("key of version 1", Pieces("one"));
    kept.write("key of version 2", Pieces("two"));
    for (const fs::path& one : folder.files())
        for (const fs::path& other : folder.files())
            if (one < other) {
                fs::rename(one, folder.path / "aside");
                fs::rename(other, one);
                fs::rename(folder.path / "aside", other);
            }
    CHECK_FALSE(kept.read("key of version 1"));
    CHECK_FALSE(kept.read("key of version 2"));
}

TEST_CASE("Kept rooms: many at once leave one whole file and nothing else") {
    const Folder folder;
    std::vector<std::thread> runs;
    for (int n = 0; n < 4; ++n)
        runs.emplace_back([&folder, n] {
            const KeptRooms kept(folder.path);
            for (int m = 0; m < 20; ++m) {
                kept.write("key", Pieces(std::string(50000, static_cast<char>('a' + n))));
                const auto found = kept.read("key");
                if (found && (found->size() != 50000 ||
                              found->find_first_not_of(found->front()) != std::string::npos))
                    std::abort();
            }
        });
    for (std::thread& run : runs) run.join();
    CHECK(folder.files().size() == 1);
    CHECK(KeptRooms(folder.path).read("key"));
}

TEST_CASE(
    "Kept rooms: what is written beside other work is there when that ends, the last of a key") {
    const Folder folder;
    const std::string large(5'000'000, 'x');
    {
        boxroom::KeptLater later{KeptRooms(folder.path)};
        later.write("a", Pieces(large));
        for (int n = 0; n < 5; ++n) later.write("b", Pieces(std::to_string(n)));
    }
    CHECK(KeptRooms(folder.path).read("a") == large);
    CHECK(KeptRooms(folder.path).read("b") == "4");
    CHECK(folder.files().size() == 2);
}

TEST_CASE("Kept rooms: a folder that cannot be, or cannot be written to, keeps nothing") {
    const Folder folder;
    std::ofstream(folder.path / "file") << "no folder";
    for (const fs::path& where :
         {folder.path / "file" / "below", fs::path("/proc/nowhere"), fs::path()}) {
        const KeptRooms kept(where);
        kept.write("a", Pieces("one"));
        CHECK_FALSE(kept.read("a"));
    }
    CHECK(folder.files().size() == 1);
}

TEST_CASE("Kept rooms: what was used longest ago goes first") {
    const Folder folder;
    const KeptRooms kept(folder.path, 3500);
    for (const char* key : {"a", "b", "c"}) {
        kept.write(key, Pieces(std::string(1000, 'x')));
        // The clock of a file system may tick but a few times a second.
        for (const fs::path& file : folder.files())
            fs::last_write_time(file, fs::last_write_time(file) - std::chrono::seconds(5));
    }
    CHECK(kept.read("a"));  // used now
    kept.write("d", Pieces(std::string(1000, 'x')));
    CHECK(kept.read("a"));
    CHECK_FALSE(kept.read("b"));
    CHECK(kept.read("c"));
    CHECK(kept.read("d"));
}
