// What is worked out in a child process comes back whole or not at all, whatever the work does.
#include "files/apart.hpp"

#include <catch2/catch.hpp>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <stdexcept>

using namespace boxroom;

TEST_CASE("Work apart comes back to the last byte") {
    const std::string bytes = std::string(300000, 'x') + '\0' + "end";
    CHECK(worked_out_apart([&] { return bytes; }, bytes.size()) == bytes);
    CHECK(worked_out_apart([] { return std::string(); }, 0) == "");
    CHECK_FALSE(worked_out_apart([&] { return bytes; }, bytes.size() - 1));
}

TEST_CASE("Work that crashes, throws or asks for too much takes nothing down with it") {
    const auto nothing = [](auto work) { CHECK_FALSE(worked_out_apart(work, 1000)); };
    nothing([]() -> std::string { std::abort(); });
    nothing([]() -> std::string {
        std::raise(SIGSEGV);
        return "unreached";
    });
    nothing([]() -> std::string { throw std::runtime_error("in the child"); });
    nothing([]() -> std::string { throw 7; });
    nothing([]() -> std::string { std::exit(0); });  // not what it was asked for
    nothing(
        [] { return std::to_string(std::string(5ul << 30, 'm').size()); });  // beyond a gigabyte
    nothing([]() -> std::string {                                            // it writes no file
        std::FILE* file = std::tmpfile();
        if (file && std::fputs("text", file) >= 0 && std::fclose(file) == 0) return "written";
        throw std::runtime_error("refused");
    });
    CHECK(worked_out_apart([] { return std::string("still here"); }, 100) == "still here");
}
