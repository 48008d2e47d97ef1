// Result files: what is written comes back, what is damaged is refused in plain words.
#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "base/error.hpp"
#include "files/hdf5_handle.hpp"
#include "files/hdf5_seal.hpp"
#include "files/results_file.hpp"
#include "files/tables.hpp"

using namespace boxroom;
namespace fs = std::filesystem;

namespace {
struct Folder {
    fs::path path = fs::path(BOXROOM_TEST_DIR) / "results_file_scratch";
    Folder() { fs::remove_all(path), fs::create_directories(path); }
    ~Folder() { fs::remove_all(path); }
};

std::string slurp(const fs::path& path) {
    std::ostringstream out;
    out << std::ifstream(path, std::ios::binary).rdbuf();
    return out.str();
}

/// As another program would write a file.
void put(const fs::path& path, const std::string& bytes) {
    fs::create_directories(path.parent_path());
    std::ofstream(path, std::ios::binary) << bytes;
}

Listening invented() {
    Listening heard;
    heard.frequency = {20, 25.5, 40};
    heard.seats = {{"sofa, \"left\"", {1, 2, 3}, 1}, {"Stühle", {1.5, 2.5, 1.1}, 0.25}};
    heard.subs = {{"corner", {0.3, 0.4, 0.2}, {-3, 0.002, -1}}};
    heard.transfer_impedance = {3, 2, 1, {{1, 2}, {3, -4}, {5, 6}, {-7, 8}, {9, 10}, {11, -12}}};
    heard.volume_velocity = {3, 1, 1, {{0.1, 0.2}, {0.3, 0.4}, {0.5, -0.6}}};
    heard.level_db = {3, 2, 1, {60, 61, 62, 63, 64.5, 65}};
    heard.phase_deg = {3, 2, 1, {0, 10, 20, 30, 40, -170}};
    heard.seat_average_db = {60.5, 62.5, 64.75};
    heard.half_space_db = {50, 52, 54};
    heard.lift_db = {10.5, 10.5, 10.75};
    heard.target_db = {62, 62, 62};
    heard.criteria = {1.5, 4, 2.5, 1.25, 62.5, 21, 0.5, 3.375};
    heard.max_level_db = {80, 81, 82}, heard.half_space_max_level_db = {70, 71, 72};
    heard.limited_by = {"excursion", "power", "voltage"};
    heard.cone_load_db = {3, 1, 1, {0.5, -0.25, 0}};
    heard.absolute = true;
    return heard;
}

std::string message(const fs::path& path) {
    try {
        read_listening(path);
    } catch (const Error& error) {
        CHECK(error.faults().at(0).where == path.string());
        CHECK(!error.faults().at(0).mend.empty());
        return error.faults().at(0).what;
    }
    return "no error";
}

/// Shape of a dataset, read with the C library itself.
std::vector<hsize_t> shape(const fs::path& path, const char* name) {
    const Hdf5Handle file(H5Fopen(path.c_str(), H5F_ACC_RDONLY, H5P_DEFAULT), H5Fclose);
    const Hdf5Handle data(H5Dopen2(file.get(), name, H5P_DEFAULT), H5Dclose);
    REQUIRE(data.valid());
    CHECK(H5Aexists(data.get(), "units") > 0);
    CHECK(H5Aexists(data.get(), "description") > 0);
    const Hdf5Handle space(H5Dget_space(data.get()), H5Sclose);
    std::vector<hsize_t> out(H5Sget_simple_extent_ndims(space.get()));
    if (!out.empty()) H5Sget_simple_extent_dims(space.get(), out.data(), nullptr);
    return out;
}
using Shape = std::vector<hsize_t>;
}  // namespace

TEST_CASE("A listening comes back as it was written") {
    const Folder folder;
    const fs::path path = folder.path / "new" / "listen.h5";
    const Listening in = invented();
    const std::string room = std::string(100000, '#') + "\ntitle = \"x\"\n";
    put(path, listening_hdf5(in, {"1.2.3", "modal", room}));
    CHECK(read_input_text(path) == room);
    const Listening out = read_listening(path);
    CHECK(out.frequency == in.frequency);
    REQUIRE(out.seats.size() == 2);
    CHECK(out.seats[0].name == in.seats[0].name);
    CHECK(out.seats[1].name == in.seats[1].name);
    CHECK(out.seats[1].at == in.seats[1].at);
    CHECK(out.seats[1].weight == 0.25);
    REQUIRE(out.subs.size() == 1);
    CHECK(out.subs[0].name == "corner");
    CHECK(out.subs[0].at == in.subs[0].at);
    CHECK(out.subs[0].dial.gain_db == -3);
    CHECK(out.subs[0].dial.delay == 0.002);
    CHECK(out.subs[0].dial.polarity == -1);
    CHECK(out.transfer_impedance == in.transfer_impedance);
    CHECK(out.volume_velocity == in.volume_velocity);
    CHECK(out.level_db == in.level_db);
    CHECK(out.phase_deg == in.phase_deg);
    CHECK(out.seat_average_db == in.seat_average_db);
    CHECK(out.half_space_db == in.half_space_db);
    CHECK(out.lift_db == in.lift_db);
    CHECK(out.target_db == in.target_db);
    CHECK(out.max_level_db == in.max_level_db);
    CHECK(out.half_space_max_level_db == in.half_space_max_level_db);
    CHECK(out.limited_by == in.limited_by);
    CHECK(out.cone_load_db.values() == in.cone_load_db.values());
    CHECK(out.criteria.spread_db == 1.5);
    CHECK(out.criteria.largest_difference_db == 4);
    CHECK(out.criteria.unevenness_db == 2.5);
    CHECK(out.criteria.balance_db == 1.25);
    CHECK(out.criteria.level_db == 62.5);
    CHECK(out.criteria.reach_hz == 21);
    CHECK(out.criteria.score == 3.375);
    CHECK(out.absolute);

    CHECK(shape(path, "/transfer_impedance") == Shape{3, 2, 1});
    CHECK(shape(path, "/volume_velocity") == Shape{3, 1});
    CHECK(shape(path, "/level") == Shape{3, 2});
    CHECK(shape(path, "/criteria/spread").empty());
    // The same run writes the same bytes.
    CHECK(listening_hdf5(in, {"1.2.3", "modal", room}) == slurp(path));
}

TEST_CASE("A room without subs or optional curves is still a file") {
    const Folder folder;
    Listening in = invented();
    in.subs.clear(), in.transfer_impedance = {}, in.volume_velocity = {};
    in.phase_deg = {}, in.cone_load_db = {}, in.lift_db.clear();
    put(folder.path / "a.h5", listening_hdf5(in, {"1", "modal", ""}));
    const Listening out = read_listening(folder.path / "a.h5");
    CHECK(out.subs.empty());
    CHECK(out.transfer_impedance.empty());
    CHECK(out.phase_deg.empty());
    CHECK(out.level_db == in.level_db);
}

TEST_CASE("Missing, truncated, foreign and damaged files are refused") {
    const Folder folder;
    const fs::path whole = folder.path / "listen.h5", cut = folder.path / "cut.h5";
    CHECK(message(folder.path / "none.h5").find("no such file") != std::string::npos);
    CHECK(message(folder.path).find("not a file") != std::string::npos);
    put(cut, "frequency_hz,level\r\n20,60\r\n");
    CHECK(message(cut).find("not written by boxroom") != std::string::npos);

    put(whole, listening_hdf5(invented(), {"1", "modal", "x"}));
    const std::string bytes = slurp(whole);
    for (const std::size_t keep : {0ul, 7ul, 100ul, bytes.size() / 2, bytes.size() - 1}) {
        put(cut, bytes.substr(0, keep));
        INFO(keep);
        CHECK(message(cut) != "no error");
    }
    put(folder.path / "rank.h5", ranking_hdf5(Ranking{}, {"1", "modal", "x"}));
    CHECK(message(folder.path / "rank.h5").find("not written by `listen`") != std::string::npos);

    // Our own kind, but one dataset gone, or one of another length than the rest.
    const auto change = [&](const char* name, hsize_t length) {
        put(cut, listening_hdf5(invented(), {"1", "modal", "x"}));
        const Hdf5Handle file(H5Fopen(cut.c_str(), H5F_ACC_RDWR, H5P_DEFAULT), H5Fclose);
        REQUIRE(H5Ldelete(file.get(), name, H5P_DEFAULT) >= 0);
        if (length == 0) return;
        const Hdf5Handle space(H5Screate_simple(1, &length, nullptr), H5Sclose);
        const Hdf5Handle data(H5Dcreate2(file.get(), name, H5T_NATIVE_DOUBLE, space.get(),
                                         H5P_DEFAULT, H5P_DEFAULT, H5P_DEFAULT),
                              H5Dclose);
        REQUIRE(data.valid());
    };
    const auto spoil = [&](const char* name, hsize_t length) {
        change(name, length);
        CHECK(message(cut).find("changed by hand") != std::string::npos);
        put(cut, sealed_hdf5(slurp(cut)));  // as a program would that writes such a file
    };
    spoil("/level", 0);
    CHECK(message(cut).find("/level is missing") != std::string::npos);
    spoil("/criteria", 0);
    CHECK(message(cut).find("/criteria/spread is missing") != std::string::npos);
    spoil("/half_space", 5);
    CHECK(message(cut).find("/half_space has another shape") != std::string::npos);
    spoil("/frequency", 1ull << 60);
    CHECK(message(cut).find("longer than the file") != std::string::npos);
    spoil("/seats/name", 2);
    CHECK(message(cut).find("does not hold text") != std::string::npos);
    // Whatever went wrong, every identifier was given back.
    CHECK(H5Fget_obj_count(hid_t{H5F_OBJ_ALL}, H5F_OBJ_ALL) == 0);
}

// Sealed by somebody who wants to do harm: what libhdf5 offers and this program never writes.
TEST_CASE("A sealed file that leads elsewhere or unpacks without end is refused") {
    const Folder folder;
    const fs::path file = folder.path / "crafted.h5", other = folder.path / "other.h5";
    put(other, listening_hdf5(invented(), {"1", "modal", "x"}));
    const auto refused = [&](const char* name, auto&& make) {
        put(file, listening_hdf5(invented(), {"1", "modal", "x"}));
        {
            const Hdf5Handle open(H5Fopen(file.c_str(), H5F_ACC_RDWR, H5P_DEFAULT), H5Fclose);
            REQUIRE(H5Ldelete(open.get(), name, H5P_DEFAULT) >= 0);
            REQUIRE(make(open.get()) >= 0);
        }
        put(file, sealed_hdf5(slurp(file)));
        return message(file);
    };
    const auto dataset = [](hid_t at, const char* name, hid_t type, hsize_t length,
                            const Hdf5Handle& creation) -> herr_t {
        const Hdf5Handle space(H5Screate_simple(1, &length, nullptr), H5Sclose);
        const Hdf5Handle made(
            H5Dcreate2(at, name, type, space.get(), H5P_DEFAULT, creation.get(), H5P_DEFAULT),
            H5Dclose);
        return made.valid() ? 0 : -1;
    };
    const auto has = [](const std::string& said, const char* words) {
        INFO(said);
        CHECK(said.find(words) != std::string::npos);
    };
    has(refused("/level",
                [&](hid_t at) {
                    return H5Lcreate_external(other.c_str(), "/level", at, "/level", H5P_DEFAULT,
                                              H5P_DEFAULT);
                }),
        "/level leads elsewhere");
    has(refused("/seats",
                [](hid_t at) {
                    return H5Lcreate_soft("/subs", at, "/seats", H5P_DEFAULT, H5P_DEFAULT);
                }),
        "/seats leads elsewhere");
    has(refused("/target",
                [&](hid_t at) {  // bytes of another file, as numbers
                    const Hdf5Handle creation(H5Pcreate(H5P_DATASET_CREATE), H5Pclose);
                    H5Pset_external(creation.get(), other.c_str(), 0, 24);
                    return dataset(at, "/target", H5T_NATIVE_DOUBLE, 3, creation);
                }),
        "/target is not stored as boxroom stores it");
    has(refused("/frequency",
                [&](hid_t at) {  // a thousand times as long as what it takes in the file
                    const Hdf5Handle creation(H5Pcreate(H5P_DATASET_CREATE), H5Pclose);
                    const hsize_t chunk = 100;
                    H5Pset_chunk(creation.get(), 1, &chunk);
                    H5Pset_deflate(creation.get(), 9);
                    return dataset(at, "/frequency", H5T_NATIVE_DOUBLE, 100, creation);
                }),
        "/frequency is not stored as boxroom stores it");
    has(refused("/limited_by",
                [&](hid_t at) {
                    const Hdf5Handle text(H5Tcopy(H5T_C_S1), H5Tclose);
                    H5Tset_size(text.get(), H5T_VARIABLE);
                    const Hdf5Handle creation(H5Pcreate(H5P_DATASET_CREATE), H5Pclose);
                    return dataset(at, "/limited_by", text.get(), 3, creation);
                }),
        "/limited_by holds neither numbers nor text of fixed length");
    Listening no_number = invented();
    no_number.seat_average_db[1] = std::nan("");
    put(file, listening_hdf5(no_number, {"1", "modal", "x"}));
    has(message(file), "/seat_average holds what is no number");
}

TEST_CASE("A sealed file with any bytes is read or refused, and nothing is left behind") {
    const Folder folder;
    const fs::path file = folder.path / "listen.h5";
    const std::string bytes = listening_hdf5(invented(), {"1", "modal", "x"});
    int read = 0, refused = 0;
    for (std::size_t at = seal_size; at < bytes.size(); at += at < 1024 ? 1 : 97) {
        std::string changed = bytes;
        changed[at] = static_cast<char>(~changed[at]);
        put(file, sealed_hdf5(std::move(changed)));
        ++(message(file) == "no error" ? read
                                       : refused);  // anything else that is thrown ends the test
    }
    CHECK(read > 0);  // names, units and numbers: nobody can know
    CHECK(refused > 100);
}

TEST_CASE("One changed bit anywhere in a file is found before HDF5 reads it") {
    const Folder folder;
    const fs::path file = folder.path / "listen.h5";
    put(file, listening_hdf5(invented(), {"1", "modal", "x"}));
    CHECK(message(file) == "no error");
    const std::string bytes = slurp(file);
    REQUIRE(bytes.size() > 2000);
    for (std::size_t at = 0; at < bytes.size(); at += at < seal_size ? 1 : 7) {
        std::string changed = bytes;
        changed[at] = static_cast<char>(changed[at] ^ (1 << at % 8));
        put(file, changed);
        INFO(at);
        CHECK(message(file).find("damaged") != std::string::npos);
    }
    std::string unsealed = bytes;  // as after a repack: libhdf5 is not asked to read it
    unsealed.replace(0, seal_size, seal_size, '\0');
    put(file, unsealed);
    CHECK(message(file).find("not written by boxroom") != std::string::npos);
}

TEST_CASE("Data that does not fit its shape makes no file") {
    Listening broken = invented();
    broken.level_db = {1, 2, 1, {60, 61}};
    CHECK_THROWS_AS(listening_hdf5(broken, {}), std::logic_error);
    CHECK(H5Fget_obj_count(hid_t{H5F_OBJ_ALL}, H5F_OBJ_ALL) == 0);
}

TEST_CASE("Rankings and plans carry their tables") {
    const Folder folder;
    RankedSpot spot{
        1, {{0.3, 0.4, 0.2}, {3, 4, 0.2}}, {0.3, 0.3, 0}, Facing::right, {1, 2, 3, 4, 5, 6, 7}};
    FloorMap map;
    map.name = "spread_by_spot", map.title = "spread", map.nx = 3, map.ny = 2;
    map.value = {1, 2, 3, 4, 5, 6}, map.valid = {1, 1, 1, 1, 1, 0};
    Ranking ranking;
    ranking.spots = {spot, spot, spot};
    ranking.spread_map = map;
    const fs::path rank = folder.path / "rank.h5", plan_path = folder.path / "plan.h5";
    put(rank, ranking_hdf5(ranking, {"1", "modal", "x"}));
    CHECK(shape(rank, "/spots/position") == Shape{3, 2, 3});
    CHECK(shape(rank, "/spots/facing") == Shape{3});
    CHECK(shape(rank, "/spots/spread") == Shape{3});
    CHECK(shape(rank, "/maps/spread_by_spot/value") == Shape{2, 3});
    CHECK(shape(rank, "/maps/spread_by_spot/valid") == Shape{2, 3});

    ranking.spots[1].positions.pop_back();  // one sub here, two there: no table
    CHECK_THROWS_AS(ranking_hdf5(ranking, {}), std::logic_error);

    Plan plan;
    plan.boxes = {{0.7, 0.025, 40, 40}, {0.8, 0.02, 45, 42}};
    plan.spots = {spot}, plan.spot_boxes = {plan.boxes[1]}, plan.spot = spot, plan.maps = {map};
    plan.at_build = invented();
    PlanWords words;
    words.recommendation = "Build this.", words.cautions = {"a", "b"};
    put(plan_path, plan_hdf5(plan, words, {"1", "modal", "x"}));
    CHECK(shape(plan_path, "/boxes/qtc") == Shape{2});
    CHECK(shape(plan_path, "/boxes/outer_size") == Shape{2, 3});
    CHECK(shape(plan_path, "/spots/box_volume") == Shape{1});
    CHECK(shape(plan_path, "/at_build/level") == Shape{3, 2});
    CHECK(shape(plan_path, "/recommendation").empty());
    CHECK(shape(plan_path, "/cautions") == Shape{2});
}

TEST_CASE("CSV quotes as RFC 4180 says") {
    const std::string curves = curves_csv(invented());
    const std::string head = curves.substr(0, curves.find("\r\n"));
    CHECK(head ==
          "frequency_hz,\"level_db: sofa, \"\"left\"\"\",level_db: Stühle,seat_average_db,"
          "half_space_db,lift_db,target_db,max_level_db,half_space_max_level_db,\"phase_deg: sofa, "
          "\"\"left\"\"\",phase_deg: Stühle");
    CHECK(curves.find("\r\n25.5,62,63,62.5,52,10.5,62,81,71,20,30\r\n") != std::string::npos);

    Ranking ranking;
    ranking.spots = {{1, {{0.3, 0.4, 0.2}}, {}, Facing::right, {1, 2, 3, 4, 5, 6, 0.5, 7}}};
    ranking.spots.push_back({2, {{0.3, 0.4, 0.2}}, {}, Facing::left, {1, 2, 3, 4, 5, 6, NAN, 7}});
    CHECK(
        spots_csv(ranking) ==
        "rank,x_m,y_m,z_m,facing,spread_db,largest_difference_db,unevenness_db,balance_db,level_db,"
        "reach_hz,ringing_s,score\r\n1,0.3,0.4,0.2,right,1,2,3,4,5,6,0.5,7\r\n"
        "2,0.3,0.4,0.2,left,1,2,3,4,5,6,,7\r\n");
    Plan plan;
    plan.boxes = {{0.707, 0.025, 40, 40}, {0.8, 0.02, 45, 42}};
    plan.build = 1;
    CHECK(plan_csv(plan).find("\r\n0.8,20,45,42,0,0,0,0,0,,yes,build\r\n") != std::string::npos);
}
