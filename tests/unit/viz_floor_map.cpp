// The floor maps: what is drawn is decoded again with VTK's own readers and looked at pixel by
// pixel.
#include <catch2/catch.hpp>

#include <chrono>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <iostream>
#include <limits>

#include <vtkDataArray.h>
#include <vtkImageData.h>
#include <vtkNew.h>
#include <vtkPNGReader.h>
#include <vtkPointData.h>
#include <vtkXMLImageDataReader.h>

#include "base/error.hpp"
#include "unit/cielab.hpp"
#include "viz/floor_map.hpp"
#include "viz/floor_map_frame.hpp"

using namespace boxroom;

namespace {

/// An invented room of 4.1 x 5.2 m whose value is `f(x, y)` on a 10 cm grid.
template <class F>
FloorMap make_map(F f) {
    FloorMap map;
    map.name = "invented";
    map.title = "Seat-to-seat spread, by where the box stands";
    map.quantity = "spread";
    map.low_is_good = true;
    map.room_width = 4.1;
    map.room_length = 5.2;
    map.x0 = map.y0 = 0.3;
    map.dx = map.dy = 0.1;
    map.nx = 36;
    map.ny = 47;
    for (int iy = 0; iy < map.ny; ++iy)
        for (int ix = 0; ix < map.nx; ++ix)
            map.value.push_back(f(map.x0 + 0.1 * ix, map.y0 + 0.1 * iy));
    map.valid.assign(map.value.size(), 1);
    return map;
}

double bumps(double x, double y) {
    return 3.2 + 1.6 * std::cos(2.1 * x) * std::cos(1.4 * y) + 0.3 * x;
}

FloorMap busy_map() {
    FloorMap map = make_map(bumps);
    map.seats = {{"sofa, left", {1.75, 3.5, 1.1}, 1},
                 {"sofa, middle", {2.05, 3.5, 1.1}, 1},
                 {"sofa, right", {2.35, 3.5, 1.1}, 1}};
    map.subs = {{"by the shelf", {1.5, 0.4, 0.2}}};
    map.keep_outs = {{"door swing", 3.2, 4.1, 4.1, 5.2}, {"radiator", 0, 1.8, 0.25, 3.2}};
    for (int iy = 0; iy < map.ny; ++iy) {
        for (int ix = 0; ix < map.nx; ++ix) {
            const double x = map.x0 + 0.1 * ix, y = map.y0 + 0.1 * iy;
            if ((x > 3.0 && y > 3.9) || (x < 0.45 && y > 1.6 && y < 3.4) ||
                (x > 1.4 && x < 2.7 && y > 3.1 && y < 4.0))
                map.valid[std::size_t(iy * map.nx + ix)] = 0;
        }
    }
    return map;
}

vtkNew<vtkImageData> decode(const std::string& png) {
    const std::string file = std::string(BOXROOM_TEST_DIR) + "/viz_floor_map_test.png";
    std::ofstream(file, std::ios::binary) << png;
    vtkNew<vtkPNGReader> reader;
    reader->SetFileName(file.c_str());
    reader->Update();
    vtkNew<vtkImageData> image;
    image->DeepCopy(reader->GetOutput());
    return image;
}

Colour pixel_of(vtkImageData* image, Pixel at) {
    const int* size = image->GetDimensions();
    const auto* rgb =
        static_cast<unsigned char*>(image->GetScalarPointer(int(at.x), size[1] - 1 - int(at.y), 0));
    return {rgb[0], rgb[1], rgb[2]};
}

unsigned big_endian(const std::string& bytes, std::size_t at) {
    unsigned out = 0;
    for (std::size_t i = 0; i < 4; ++i) out = out << 8 | static_cast<unsigned char>(bytes[at + i]);
    return out;
}

}  // namespace

TEST_CASE("a floor map is a PNG file of the right size and shows what the values say") {
    unsetenv("DISPLAY");
    // Low on the left, high on the right; high at the front too, by less.
    FloorMap map = make_map([](double x, double y) { return 10 * x - 0.5 * y; });
    const std::string png = floor_map_png(map);
    CHECK(png.substr(0, 8) == "\x89PNG\r\n\x1a\n");  // PNG specification (W3C), section 5.2
    CHECK(png.substr(12, 4) == "IHDR");              // section 11.2.2: width, height
    CHECK(big_endian(png, 16) == 1000);

    const auto image = decode(png);
    REQUIRE(image->GetDimensions()[0] == 1000);
    REQUIRE(unsigned(image->GetDimensions()[1]) == big_endian(png, 20));
    const Field field(map);
    const Frame frame(map, field, Units::metric);
    const auto light_at = [&](double x, double y) {
        return to_lab(pixel_of(image, frame.pixel(x, y))).l;
    };
    CHECK(frame.plot.width / frame.plot.height == Approx(4.1 / 5.2).epsilon(0.005));  // to scale
    // Low is good here, and good is dark. (0.55 m keeps clear of the ring round the best spot.)
    CHECK(light_at(0.40, 1.0) < 25);
    CHECK(light_at(3.75, 1.0) > 85);
    CHECK(light_at(0.55, 4.0) < light_at(2.0, 4.02));
    CHECK(light_at(2.03, 4.02) < light_at(3.5, 4.02));
    // The strip along the walls where no point lies is grey, outside is white paper.
    const Colour strip = pixel_of(image, frame.pixel(0.12, 2.3));
    CHECK(strip.r == strip.g);
    CHECK(strip.g == strip.b);
    CHECK(strip.r > 200);
    CHECK(strip.r < 250);
    CHECK(pixel_of(image, {3, 3}) == Colour{255, 255, 255});

    map.low_is_good = false;
    const auto other = decode(floor_map_png(map));
    CHECK(to_lab(pixel_of(other, frame.pixel(0.40, 1.0))).l > 85);
    CHECK(to_lab(pixel_of(other, frame.pixel(3.75, 1.0))).l < 25);
}

TEST_CASE(
    "spots that are not valid are left grey, keep-outs are hatched, seats and subs are marked") {
    const FloorMap map = busy_map();
    const Field field(map);
    const Frame frame(map, field, Units::metric);
    const auto image = decode(floor_map_png(map));
    const auto seen = [&](double x, double y) { return pixel_of(image, frame.pixel(x, y)); };
    for (const Seat& seat : map.seats) CHECK(seen(seat.at.x, seat.at.y) == Colour{255, 255, 255});
    CHECK(to_lab(seen(1.5, 0.4)).l < 20);  // the sub
    const Colour hole = seen(2.6, 3.85);   // not valid, no label there
    CHECK(hole == Colour{226, 226, 226});
    int light = 0, dark = 0;  // along the door's lower edge, clear of its name
    for (double x = 3.25; x < 4.05; x += 0.004) (to_lab(seen(x, 5.1)).l > 85 ? light : dark)++;
    CHECK(light > 20);
    CHECK(dark > 20);
}

TEST_CASE("odd maps are drawn without a fault") {
    unsetenv("DISPLAY");
    const auto draws = [](const FloorMap& map) {
        for (const Units units : {Units::metric, Units::imperial})
            CHECK(floor_map_png(map, units).size() > 2000);
        CHECK(floor_map_vti(map).size() > 500);
    };
    FloorMap map = busy_map();
    SECTION("nothing valid") {
        map.valid.assign(map.valid.size(), 0);
        draws(map);
    }
    SECTION("constant") {
        map.value.assign(map.value.size(), 2.5);
        draws(map);
    }
    SECTION("constant zero") {
        map.value.assign(map.value.size(), 0);
        draws(map);
    }
    SECTION("not a number") {
        map.value.assign(map.value.size(), std::numeric_limits<double>::quiet_NaN());
        map.value[5] = 1;
        map.value[6] = std::numeric_limits<double>::infinity();
        draws(map);
    }
    SECTION("one row, one column, one point") {
        for (const auto& [nx, ny] : {std::pair{30, 1}, {1, 30}, {1, 1}}) {
            map.nx = nx;
            map.ny = ny;
            map.dx = nx > 1 ? 0.1 : 0;
            map.dy = ny > 1 ? 0.1 : 0;
            map.value.assign(std::size_t(nx * ny), 1.0);
            map.value[0] = 3;
            map.valid.assign(map.value.size(), 1);
            draws(map);
        }
    }
    SECTION("names of every kind") {
        map.title = std::string(300, 'W') + " $x^2$ " + std::string(90, 'a');
        map.quantity = "";
        map.unit = "";
        map.seats[0].name = "ein sehr, sehr langer Name f\xC3\xBCr einen Platz";
        map.seats[1].name = "\xE5\xBA\xA7\xE5\xB8\xAD \xCE\xB1";  // Chinese, Greek
        map.seats[2].name = "broken \xC3 \xFF\xFE";
        map.subs[0].name = "";
        draws(map);
    }
    SECTION("long and short rooms, things outside") {
        map.seats.push_back({"outside", {-1e12, 7e9, 0}, 1});
        map.keep_outs.push_back({"upside down", 9, 9, -9, -9});
        map.room_width = 0.6;
        draws(map);
        map.room_width = 40;
        map.room_length = 2;
        draws(map);
    }
    SECTION("many seats") {
        for (int i = 0; i < 60; ++i)
            map.seats.push_back({"seat number " + std::to_string(i), {1 + 0.03 * i, 2.5, 1}, 1});
        draws(map);
    }
}

TEST_CASE("maps that make no sense are refused with a plain message") {
    FloorMap map = busy_map();
    map.value.pop_back();
    CHECK_THROWS_AS(floor_map_png(map), Error);
    CHECK_THROWS_AS(floor_map_vti(map), Error);
    map = busy_map();
    map.nx = 0;
    CHECK_THROWS_AS(floor_map_vti(map), Error);
    map = busy_map();
    map.room_width = 0;
    CHECK_THROWS_AS(floor_map_png(map), Error);
}

TEST_CASE("the .vti file holds the values, read back with VTK's reader") {
    const FloorMap map = busy_map();
    vtkNew<vtkXMLImageDataReader> reader;
    reader->ReadFromInputStringOn();
    reader->SetInputString(floor_map_vti(map));
    reader->Update();
    vtkImageData* image = reader->GetOutput();
    REQUIRE(image->GetDimensions()[0] == map.nx);
    REQUIRE(image->GetDimensions()[1] == map.ny);
    CHECK(image->GetOrigin()[0] == map.x0);
    CHECK(image->GetOrigin()[1] == map.y0);
    CHECK(image->GetSpacing()[0] == map.dx);
    CHECK(image->GetSpacing()[1] == map.dy);
    vtkDataArray* value = image->GetPointData()->GetArray("spread");
    vtkDataArray* valid = image->GetPointData()->GetArray("valid");
    REQUIRE(value != nullptr);
    REQUIRE(valid != nullptr);
    bool same = true;
    for (std::size_t i = 0; i < map.value.size(); ++i)
        same = same && value->GetComponent(vtkIdType(i), 0) == map.value[i] &&
               valid->GetComponent(vtkIdType(i), 0) == map.valid[i];
    CHECK(same);
}

TEST_CASE("how long a map takes (printed, not judged)") {
    unsetenv("DISPLAY");
    const FloorMap map = busy_map();
    floor_map_png(map);  // the first one loads the font
    const auto start = std::chrono::steady_clock::now();
    for (int i = 0; i < 5; ++i) floor_map_png(map);
    const std::chrono::duration<double, std::milli> taken =
        std::chrono::steady_clock::now() - start;
    std::cout << "floor map: " << taken.count() / 5 << " ms each\n";
    if (const char* folder = std::getenv("BOXROOM_PICTURES")) {  // for looking at
        std::ofstream(std::string(folder) + "/map.png", std::ios::binary) << floor_map_png(map);
        std::ofstream(std::string(folder) + "/map_feet.png", std::ios::binary)
            << floor_map_png(map, Units::imperial);
        FloorMap level = make_map(
            [](double x, double y) { return 82 + 4 * std::cos(1.5 * x) + 5 * std::cos(1.2 * y); });
        level.title = "Level over the listening plane, 20 to 120 Hz";
        level.quantity = "level at 2.83 V";
        level.low_is_good = false;
        level.seats = map.seats;
        level.seats.push_back({"ein sehr, sehr langer Name f\xC3\xBCr \xCE\xB1", {3.9, 5.0, 1}, 1});
        level.subs = {{"front left", {0.35, 0.4, 0.2}}, {"front right", {3.75, 0.4, 0.2}}};
        level.seats[1].name = "\xE5\xBA\xA7 \xCE\xB1";
        level.keep_outs = {{"wood stove with a very long name", 3.6, 2.4, 4.1, 3.0}};
        level.seats.push_back({"behind", {2.05, 3.7, 1}, 1});
        level.seats.push_back({"behind left", {1.8, 3.7, 1}, 1});
        level.seats.push_back({"behind right", {2.3, 3.7, 1}, 1});
        level.room_length = 6;
        std::ofstream(std::string(folder) + "/level.png", std::ios::binary) << floor_map_png(level);
    }
}
