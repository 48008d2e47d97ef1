// What is written, where, and what it may stand on: single files, results folders, manifests.
#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <set>

#include "base/error.hpp"
#include "files/output_place.hpp"
#include "files/results_folder.hpp"
#include "files/sha256.hpp"

using namespace boxroom;
namespace fs = std::filesystem;
using Names = std::set<std::string>;

namespace {

struct Folder {
    fs::path path = fs::path(BOXROOM_TEST_DIR) / "outputs_scratch";
    Folder() { fs::remove_all(path), fs::create_directories(path); }
    ~Folder() { fs::remove_all(path); }
};

void put(const fs::path& path, const std::string& bytes) {
    std::ofstream(path, std::ios::binary) << bytes;
}

std::string slurp(const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

/// Everything in the folder, hidden things too.
Names names(const fs::path& folder) {
    Names found;
    for (const auto& entry : fs::directory_iterator(folder)) found.insert(entry.path().filename());
    return found;
}

/// What an Error says, or "no error".
template <typename Action>
std::string refusal(Action action) {
    try {
        action();
    } catch (const Error& error) {
        CHECK(!error.faults().at(0).mend.empty());
        return error.faults().at(0).what;
    }
    return "no error";
}

bool has(const std::string& text, const char* part) {
    return text.find(part) != std::string::npos;
}

/// A run of `command` that writes these files.
void run(const fs::path& folder, const std::string& command,
         const std::vector<std::pair<std::string, std::string>>& files, const std::string& set = "",
         const InputFiles& inputs = {}) {
    ResultsFolder results(folder, command, inputs);
    for (const auto& [name, bytes] : files) results.write(name, bytes, set.empty() ? command : set);
    results.commit();
}

/// The files that the manifest lists, each with the hash of what is there (worked out here).
Names listed_and_whole(const fs::path& folder) {
    const auto json = nlohmann::json::parse(slurp(folder / "manifest.json"));
    CHECK(!json.at("run").get<std::string>().empty());
    Names found;
    for (const auto& file : json.at("files")) {
        const std::string name = file.at("name");
        found.insert(name);
        CHECK(sha256(slurp(folder / name)) == file.at("sha256"));
    }
    return found;
}

constexpr const char* picture_of_ours = "\x89PNG\r\n\x1a\n\0\0\0\x10tEXtSoftware\0boxroom";
const std::string our_picture(picture_of_ours, 8 + 8 + 16);

}  // namespace

TEST_CASE("SHA-256 of the examples in its standard") {
    // FIPS 180-4's example "abc"; the empty message from NIST's test vectors (CAVS,
    // SHA256ShortMsg).
    CHECK(sha256("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    CHECK(sha256("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
    // A million times "a" (FIPS 180-2, appendix B.3), read in pieces.
    const Folder folder;
    put(folder.path / "a", std::string(1000000, 'a'));
    CHECK(sha256_of_file(folder.path / "a") ==
          "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
    CHECK(!sha256_of_file(folder.path / "none"));
    CHECK(!sha256_of_file(folder.path));
}

TEST_CASE("A single output replaces neither an input, nor a foreign file, nor what is no file") {
    const Folder folder;
    const fs::path room = folder.path / "room.toml", png = folder.path / "a.png";
    put(room, "title = \"x\"");
    InputFiles inputs;
    inputs.add(room);
    const auto write = [&](const fs::path& path) {
        return refusal([&] { write_output(path, our_picture, inputs); });
    };
    CHECK(has(write(room), "reads that very file"));
    CHECK(has(write(folder.path / "." / "room.toml"), "reads that very file"));
    fs::create_hard_link(room, folder.path / "hard.png");
    CHECK(has(write(folder.path / "hard.png"), "reads that very file"));
    fs::create_symlink("room.toml", folder.path / "soft.png");
    CHECK(has(write(folder.path / "soft.png"), "reads that very file"));
    CHECK(slurp(room) == "title = \"x\"");

    fs::create_symlink("nowhere", folder.path / "dangling.png");
    CHECK(has(write(folder.path / "dangling.png"), "symbolic link"));
    CHECK(has(write(folder.path), "folder"));
    CHECK(has(write(folder.path / ""), "names a folder"));
    CHECK(has(write("/dev/null"), "device"));
    REQUIRE(::mkfifo((folder.path / "pipe.png").c_str(), 0600) == 0);
    CHECK(has(write(folder.path / "pipe.png"), "pipe"));
    for (const char* foreign : {"mine", "", "\x89PNG\r\n\x1a\nanother program's", "<svg>boxroom"}) {
        put(png, foreign);
        CHECK(has(write(png), "did not write"));
        CHECK(slurp(png) == foreign);
    }
    put(png, "<svg><!-- written by boxroom --></svg>");
    CHECK(has(write(png), "another kind"));
    CHECK(has(refusal([&] { write_output(room.string() + "/b.png", our_picture, inputs); }),
              "folder cannot be made"));

    // Ours may be written again, and nothing stays behind.
    const fs::path ours = folder.path / "new" / "b.png";
    CHECK(write(ours) == "no error");
    CHECK(write(ours) == "no error");
    CHECK(slurp(ours) == our_picture);
    CHECK(names(folder.path / "new") == Names{"b.png"});
}

TEST_CASE("A file without a mark inside is never replaced") {
    const Folder folder;
    const fs::path file = folder.path / "room_1.toml";
    write_output(file, "one", {});
    CHECK(has(refusal([&] { write_output(file, "two", {}); }), "did not write"));
    CHECK(slurp(file) == "one");
}

TEST_CASE("A run replaces its own files, twice as often as one likes, and no other's") {
    const Folder folder;
    put(folder.path / "notes.txt", "mine");
    put(folder.path / "c.csv", "mine too");
    run(folder.path, "plan", {{"a.csv", "1"}, {"b.csv", "2"}});
    CHECK(listed_and_whole(folder.path) == Names{"a.csv", "b.csv"});
    const std::string manifest = slurp(folder.path / "manifest.json");
    run(folder.path, "plan", {{"a.csv", "1"}, {"b.csv", "2"}});
    CHECK(slurp(folder.path / "manifest.json") == manifest);  // the same run, the same bytes

    // What is not written again goes, unless somebody changed it.
    run(folder.path, "plan", {{"a.csv", "3"}});
    CHECK(names(folder.path) == Names{"a.csv", "c.csv", "manifest.json", "notes.txt"});
    CHECK(slurp(folder.path / "a.csv") == "3");
    run(folder.path, "plan", {{"a.csv", "3"}, {"b.csv", "4"}});
    put(folder.path / "b.csv", "changed");
    run(folder.path, "plan", {{"a.csv", "5"}});
    CHECK(slurp(folder.path / "b.csv") == "changed");
    CHECK(listed_and_whole(folder.path) == Names{"a.csv"});

    // A foreign file in the way, or a changed one of ours: refused, and all stays as it was.
    const auto write = [&](const char* name) {
        return refusal([&] { run(folder.path, "plan", {{"a.csv", "6"}, {name, "7"}}); });
    };
    CHECK(has(write("c.csv"), "did not write"));
    CHECK(has(write("b.csv"), "did not write"));
    put(folder.path / "a.csv", "by hand");
    CHECK(has(write("d.csv"), "changed since"));
    CHECK(slurp(folder.path / "a.csv") == "by hand");
    CHECK(names(folder.path) == Names{"a.csv", "b.csv", "c.csv", "manifest.json", "notes.txt"});
    CHECK(slurp(folder.path / "notes.txt") == "mine");
}

TEST_CASE("The marks and the manifest decide together what is ours") {
    const Folder folder;
    const std::string drawing = "<svg><!-- written by boxroom --><g/></svg>";
    put(folder.path / "box.svg", drawing);  // from before there were manifests
    run(folder.path, "build", {{"box.svg", drawing}});
    put(folder.path / "box.svg", "<svg><!-- written by boxroom --><g>my own dimension</g></svg>");
    CHECK(has(refusal([&] {
                  run(folder.path, "build", {{"box.svg", drawing}});
              }),
              "changed since"));
    put(folder.path / "plan.h5", "boxroom results: cut short");  // is to be written anew
    run(folder.path, "plan", {{"plan.h5", "boxroom results: whole"}});
    put(folder.path / "plan.h5", "boxroom results: who");
    run(folder.path, "plan", {{"plan.h5", "boxroom results: whole"}});
    CHECK(slurp(folder.path / "plan.h5") == "boxroom results: whole");
}

TEST_CASE("Several commands share a folder, and a set is replaced as a whole") {
    const Folder folder;
    run(folder.path, "listen", {{"listen.csv", "l"}, {"crossover.csv", "l"}});
    run(folder.path, "plan", {{"plan.csv", "p"}, {"crossover.csv", "p"}});
    CHECK(listed_and_whole(folder.path) == Names{"crossover.csv", "listen.csv", "plan.csv"});
    run(folder.path, "plan", {{"plan.csv", "p2"}});  // the crossover was the plan's in the end
    CHECK(listed_and_whole(folder.path) == Names{"listen.csv", "plan.csv"});

    run(folder.path, "build", {{"box.svg", "big"}, {"sheet_1.svg", "big"}, {"sheet_2.svg", "big"}},
        sawing_set);
    {
        const InputFiles none;
        ResultsFolder results(folder.path, "plan", none);
        results.write("plan.csv", "p3");
        results.write("box.svg", "small", sawing_set);
        results.write("sheet_1.svg", "small", sawing_set);
        results.commit();
    }
    CHECK(listed_and_whole(folder.path) ==
          Names{"box.svg", "listen.csv", "plan.csv", "sheet_1.svg"});
    CHECK(!fs::exists(folder.path / "sheet_2.svg"));
    {  // a plan whose box cannot be drawn leaves no drawings of another
        const InputFiles none;
        ResultsFolder results(folder.path, "plan", none);
        results.write("plan.csv", "p4");
        results.replaces(sawing_set);
        results.commit();
    }
    CHECK(listed_and_whole(folder.path) == Names{"listen.csv", "plan.csv"});
    const auto json = nlohmann::json::parse(slurp(folder.path / "manifest.json"));
    CHECK(json["files"][0]["run"] != json["files"][1]["run"]);
    CHECK(json["run"] == json["files"][1]["run"]);
}

TEST_CASE("A run that fails leaves nothing, one that is refused is refused early") {
    const Folder folder;
    const InputFiles none;
    {
        ResultsFolder results(folder.path / "deep" / "er", "plan", none);
        results.expect({"a.csv"});
        CHECK(names(folder.path).empty());
        results.write("a.csv", "1");
        CHECK(fs::exists(folder.path / "deep" / "er"));
    }
    CHECK(names(folder.path).empty());
    run(folder.path, "plan", {{"a.csv", "1"}});
    {
        ResultsFolder results(folder.path, "plan", none);
        results.write("a.csv", "2");
    }
    CHECK(names(folder.path) == Names{"a.csv", "manifest.json"});
    CHECK(slurp(folder.path / "a.csv") == "1");

    put(folder.path / "b.csv", "mine");
    ResultsFolder results(folder.path, "plan", none);
    results.expect({"a.csv"});
    CHECK(has(refusal([&] { results.expect({"b.csv"}); }), "did not write"));
    ResultsFolder inside(folder.path / "b.csv" / "c", "plan", none);
    CHECK(has(refusal([&] { inside.expect({}); }), "b.csv stands in the way"));
    put(folder.path / "manifest.json", "{\"name\": \"a web page's\"}");
    CHECK(has(refusal([&] { run(folder.path, "plan", {{"a.csv", "3"}}); }), "list of files"));
    CHECK(slurp(folder.path / "a.csv") == "1");
}

TEST_CASE("An input in the results folder is neither replaced nor taken away") {
    const Folder folder;
    run(folder.path, "plan", {{"a.csv", "1"}, {"sets.h5", "boxroom results: 2"}});
    InputFiles inputs;
    inputs.add(folder.path / "sets.h5");
    CHECK(has(refusal([&] {
                  run(folder.path, "plan", {{"sets.h5", "boxroom results: 3"}}, "", inputs);
              }),
              "reads that very file"));
    run(folder.path, "plan", {{"a.csv", "1"}}, "", inputs);
    CHECK(slurp(folder.path / "sets.h5") == "boxroom results: 2");
}

TEST_CASE("A manifest that names files elsewhere is none of ours") {
    const std::string hash(64, 'a');
    for (const char* name : {"../x", "a/b", "/etc/passwd", "..", "", "manifest.json"})
        CHECK(!parse_manifest(manifest_text({"r", {{name, hash, "r", "s"}}})));
    CHECK(!parse_manifest(manifest_text({"r", {{"a", "abc", "r", "s"}}})));
    CHECK(!parse_manifest("[]"));
    CHECK(!parse_manifest("{\"run\": 1, \"files\": []}"));
    CHECK(parse_manifest(manifest_text({"r", {{"a", hash, "r", "s"}}})));
}

TEST_CASE("Who reads a file of a results folder checks its hash") {
    const Folder folder;
    run(folder.path, "plan", {{"a.csv", "1"}});
    require_as_listed(folder.path / "a.csv");
    put(folder.path / "a.csv", "2");
    CHECK(has(refusal([&] { require_as_listed(folder.path / "a.csv"); }), "manifest.json"));
    require_as_listed(folder.path / "not_listed.csv");
}

TEST_CASE("What a killed run left is finished where it was whole, else swept") {
    const Folder folder;
    const fs::path hidden = folder.path / ".boxroom-unfinished-abcdef";
    run(folder.path, "plan", {{"a.csv", "1"}, {"b.csv", "1"}});
    const std::string before = slurp(folder.path / "manifest.json");

    // Killed while it wrote: the old set is whole, the next run sweeps.
    fs::create_directory(hidden);
    put(hidden / "a.csv", "half");
    run(folder.path, "listen", {{"l.csv", "1"}});
    CHECK(listed_and_whole(folder.path) == Names{"a.csv", "b.csv", "l.csv"});
    CHECK(!fs::exists(hidden));

    // Killed while it moved: a.csv is in place, c.csv is not, b.csv is still to go, no manifest.
    const std::string old = slurp(folder.path / "manifest.json");
    run(folder.path, "plan", {{"a.csv", "2"}, {"c.csv", "2"}});
    const std::string now = slurp(folder.path / "manifest.json");
    const auto begin_again = [&] {
        fs::create_directory(hidden);
        fs::rename(folder.path / "c.csv", hidden / "c.csv");
        fs::rename(folder.path / "manifest.json", hidden / "manifest.json");
        put(folder.path / "b.csv", "1");
        put(hidden / "whole_set.json", nlohmann::json{{"before", old}, {"after", now}}.dump());
    };
    begin_again();
    run(folder.path, "box", {{"x.csv", "1"}});
    CHECK(listed_and_whole(folder.path) == Names{"a.csv", "c.csv", "l.csv", "x.csv"});
    CHECK(slurp(folder.path / "c.csv") == "2");
    CHECK(!fs::exists(folder.path / "b.csv"));
    CHECK(!fs::exists(hidden));

    // The user's own file came in between: it stays, and so does what is unfinished.
    run(folder.path, "plan", {{"a.csv", "2"}, {"c.csv", "2"}});
    begin_again();
    put(folder.path / "c.csv", "mine");
    CHECK(has(refusal([&] { run(folder.path, "box", {{"x.csv", "1"}}); }), "did not write"));
    CHECK(slurp(folder.path / "c.csv") == "mine");
    CHECK(fs::exists(hidden / "c.csv"));

    // A run that still lives is left alone.
    fs::remove(folder.path / "c.csv");
    const int held = ::open(hidden.c_str(), O_RDONLY | O_DIRECTORY);
    REQUIRE(::flock(held, LOCK_EX) == 0);
    put(folder.path / "manifest.json", before);
    run(folder.path, "box", {{"y.csv", "3"}});
    CHECK(fs::exists(hidden / "c.csv"));
    ::close(held);
}
