// Whole command lines, run to their end in a folder of their own: words of the program's options,
// and values that are the input's. Each ends with 0, 1 or 2, says nothing that is alive in a
// terminal and no broken JSON, and leaves what it reads, and what it did not write, as it was.
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <string>
#include <vector>

#include "app/command_line.hpp"
#include "base/visible_text.hpp"
#include "harness.hpp"

namespace {

namespace fs = std::filesystem;

// One that ends with = takes its value from the input; paths are whole words, so that nothing is
// written outside the folder.
constexpr std::array words{"check",
                           "box",
                           "modes",
                           "listen",
                           "map",
                           "rank",
                           "plan",
                           "view",
                           "build",
                           "driver",
                           "sweep",
                           "fit",
                           "compare",
                           "walls",
                           "explain",
                           "page",
                           "new",
                           "--help",
                           "--version",
                           "--json",
                           "--quiet",
                           "--fresh",
                           "--ask",
                           "--in-box",
                           "--units=metric",
                           "--units=imperial",
                           "--units=",
                           "--solver=modal",
                           "--solver=grid",
                           "--solver=both",
                           "--solver=",
                           "--threads=2",
                           "--threads=x",
                           "--subs=1",
                           "--subs=2",
                           "--subs=",
                           "--memory=",
                           "--frequency=",
                           "--size=",
                           "--volume=",
                           "--qtc=",
                           "--fs=",
                           "--qts=",
                           "--vas=",
                           "--qes=",
                           "--qms=",
                           "--re=",
                           "--le=",
                           "--sd=",
                           "--bl=",
                           "--mms=",
                           "--filling=",
                           "--box=",
                           "--mass=",
                           "--fs=27 Hz",
                           "--qts=0.45",
                           "--vas=38 L",
                           "--out",
                           "--boxed",
                           "--weighed",
                           "--screenshot",
                           "--replay",
                           "--record",
                           "room.toml",
                           "measured.toml",
                           "curve.csv",
                           "ohms.csv",
                           "noise",
                           "folder",
                           "link",
                           "pipe",
                           "out",
                           "out/listen.h5",
                           "../up",
                           "folder/../room.toml",
                           "/dev/full",
                           "/dev/zero",
                           "",
                           "--",
                           "-",
                           "subs",
                           "--manual-page",
                           "survey",
                           "survey.toml",
                           "--rooms=1",
                           "--part=1/2",
                           "--part=",
                           "--merge",
                           "--room=1",
                           "--room="};

const char* const room = R"(title = "A small room"
[room]
width = "2.2 m"
length = "2.6 m"
height = "2.1 m"
[walls]
left = "brick, plastered"
right = { absorption = 0.1 }
front = "brick, plastered"
back = "brick, plastered"
floor = "concrete"
ceiling = "concrete"
[driver]
fs = "27 Hz"
qts = 0.45
vas = "38 L"
[box]
volume = "25 L"
sweep = { qtc = [0.6, 1.0], steps = 3 }
[[seat]]
name = "chair"
at = ["1.1 m", "1.9 m", "1.1 m"]
[[sub]]
name = "corner"
at = ["0.35 m", "0.40 m", "0.22 m"]
[spots]
step = "0.60 m"
[target]
band = ["30 Hz", "100 Hz"]
[analysis]
frequencies = [20, 25, 31.5, 40, 50, 63, 80, 100, 125]
)";

/// A folder two below one of our own, in which every run begins alike.
class Scratch {
  public:
    Scratch() {
        std::string name = fs::temp_directory_path() / "boxroom-fuzz-XXXXXX";
        if (!::mkdtemp(name.data())) throw std::runtime_error("no folder to work in");
        own_ = name, above_ = own_ / "above";
        fs::create_directories(above_ / "here");
        enter();
        ::setenv("XDG_CACHE_HOME", (fs::path(name) / "kept").c_str(), 1);
        ::unsetenv("DISPLAY");
        write("room.toml", room);
        write("measured.toml", std::string(room) +
                                   "[[recording]]\nseat = \"chair\"\n"
                                   "sub = \"corner\"\ncurve = \"curve.csv\"\n");
        std::string curve = "frequency_hz,level_db\n", ohms = "frequency_hz,impedance_ohm\n";
        for (double f = 10; f < 300; f *= 1.1) {
            curve += std::to_string(f) + ",80\n";
            ohms += std::to_string(f) + "," +
                    std::to_string(4 + 30 / (1 + (f - 30) * (f - 30) / 20)) + "\n";
        }
        write("curve.csv", curve), write("ohms.csv", ohms);
        // An L takes as long as twenty others.
        std::string spread = read(
            fs::directory_entry(BOXROOM_SOURCE_DIR "/tests/fuzz/seeds/survey_file/small.toml"));
        const std::string shaped = "l_shaped = 0.5";
        write("survey.toml", spread.replace(spread.find(shaped), shaped.size(), ""));
        write("noise", "\x1b[2J\xff\x80 no file of ours");
        fs::create_directory("folder");
        fs::create_symlink("room.toml", "link");
        ::mkfifo("pipe", 0600);
        for (const auto& entry : fs::directory_iterator(".")) known_[entry.path()] = read(entry);
        fs::current_path(home_);
    }
    Scratch(const Scratch&) = delete;
    Scratch& operator=(const Scratch&) = delete;
    ~Scratch() {
        std::error_code ignored;
        fs::remove_all(own_, ignored);
    }

    void enter() const { fs::current_path(above_ / "here"); }

    /// Takes away what a run left, and leaves; what was there before must be as it was.
    void clean() const {
        std::size_t found = 0;
        for (const auto& entry : std::vector(fs::directory_iterator("."), {})) {
            const auto was = known_.find(entry.path());
            if (was == known_.end()) {
                fs::remove_all(entry.path());
                continue;
            }
            ++found;
            if (read(entry) != was->second) throw std::logic_error("an input was written over");
        }
        if (found != known_.size()) throw std::logic_error("an input is gone");
        if (!fs::is_empty("folder")) fs::remove_all("folder"), fs::create_directory("folder");
        fs::remove_all(above_ / "up");
        fs::current_path(home_);
    }

  private:
    static void write(const char* name, const std::string& text) {
        std::ofstream(name, std::ios::binary) << text;
    }
    static std::string read(const fs::directory_entry& entry) {
        if (!entry.is_regular_file()) return {};
        std::ifstream in(entry.path(), std::ios::binary);
        return {std::istreambuf_iterator<char>(in), {}};
    }

    const fs::path home_ = fs::current_path();  // where libFuzzer finds what it was given
    fs::path own_, above_;
    std::map<fs::path, std::string> known_;
};

/// A byte a word; behind one that ends with =, a length and so many bytes of value.
std::vector<std::string> line_of(const std::uint8_t* data, std::size_t size) {
    std::vector<std::string> line{"boxroom"};
    for (std::size_t at = 0; at < size && line.size() < 12;) {
        line.emplace_back(words[data[at++] % words.size()]);
        if (!line.back().ends_with('=') || at == size) continue;
        const std::size_t asked = data[at++], length = std::min(asked, size - at);
        const std::string value(boxroom::fuzz::bytes(data + at, length));
        line.back() += value.substr(0, value.find('\0'));  // as the system hands it over
        at += length;
    }
    return line;
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace boxroom;
    static const Scratch scratch;
    scratch.enter();
    std::vector<std::string> line = line_of(data, size);
    std::vector<char*> arguments;
    for (std::string& word : line) arguments.push_back(word.data());
    arguments.push_back(nullptr);
    const auto look = [](const std::string& answer) {
        if (visible_text(answer, Lines::kept) != answer)
            throw std::logic_error("something alive in an answer");
        if (answer.starts_with('{') && !nlohmann::json::accept(answer))
            throw std::logic_error("an answer that is no JSON");
        return 0;
    };
    const int status = run_command_line(static_cast<int>(line.size()), arguments.data(), look);
    if (status < 0 || status > 2) throw std::logic_error("a status that means nothing");
    scratch.clean();
    return 0;
}
