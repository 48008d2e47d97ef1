// Runs a harness without a fuzzer, the same every time: over every seed as it is, and over so many
// changed ones. For builds without clang's libFuzzer; finds what has been found before, and a
// little.
//
//   fuzz_room_file COUNT SEED_OR_FOLDER...
#include <algorithm>
#include <array>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>
#include <string>
#include <vector>

#include "harness.hpp"

namespace {

namespace fs = std::filesystem;

std::vector<std::string> read_seeds(int argc, char** argv) {
    std::vector<fs::path> files;
    for (int n = 2; n < argc; ++n)
        if (fs::is_directory(argv[n]))
            for (const auto& entry : fs::directory_iterator(argv[n])) files.push_back(entry.path());
        else
            files.emplace_back(argv[n]);
    std::ranges::sort(files);
    std::vector<std::string> seeds;
    for (const fs::path& path : files) {
        std::ifstream file(path, std::ios::binary);
        seeds.emplace_back(std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>());
    }
    return seeds;
}

/// One of the changes that fuzzers make: bits, bytes, pieces that go, double or come from
/// elsewhere.
void change(std::string& text, const std::string& other, std::mt19937_64& random) {
    static constexpr std::array words{"[",  "[[", "]",   "{",    "}",       "\"",   "'''", "=",
                                      ",",  ".",  "-1",  "1e9",  "nan",     "-inf", "0",   "\n",
                                      "\r", "m",  "Hz",  "\x1b", "\xff",    "true", "#",   "1e-300",
                                      ";",  "\t", "-0.", "9e99", "[[seat]]"};
    const auto below = [&](std::size_t n) { return n ? random() % n : 0; };
    const std::size_t at = below(text.size() + 1), left = text.size() - at;
    switch (below(6)) {
        case 0:
            if (left) text[at] = static_cast<char>(text[at] ^ (1 << below(8)));
            return;
        case 1:
            if (left) text[at] = static_cast<char>(random());
            return;
        case 2:
            text.erase(at, below(std::min<std::size_t>(left, 64) + 1));
            return;
        case 3:
            text.insert(at, text.substr(at, below(std::min<std::size_t>(left, 64) + 1)));
            return;
        case 4:
            text.insert(at, words[below(words.size())]);
            return;
        default: {
            const std::size_t from = below(other.size() + 1);
            text.replace(at, below(std::min<std::size_t>(left, 200) + 1), other, from,
                         below(200) + 1);
        }
    }
}

}  // namespace

int main(int argc, char** argv) {
    const std::vector<std::string> seeds = read_seeds(argc, argv);
    if (seeds.empty()) {
        std::fputs("usage: fuzz_... COUNT SEED_OR_FOLDER...\n", stderr);
        return 2;
    }
    const auto run = [](const std::string& text) {
        LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(text.data()), text.size());
    };
    std::for_each(seeds.begin(), seeds.end(), run);
    std::mt19937_64 random(16);
    const long count = std::strtol(argv[1], nullptr, 10);
    for (long n = 0; n < count; ++n) {
        std::string text = seeds[random() % seeds.size()];
        for (std::size_t changes = 1 + random() % 4; changes > 0; --changes)
            change(text, seeds[random() % seeds.size()], random);
        run(text);
    }
    std::printf("%zu seeds and %ld changed ones\n", seeds.size(), count);
    return 0;
}
