#include "files/manifest.hpp"

#include <algorithm>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>

#include "base/error.hpp"
#include "files/sha256.hpp"

namespace boxroom {

namespace fs = std::filesystem;

namespace {

constexpr std::uintmax_t longest = 4 << 20;

fs::path folder_of(const fs::path& file) {
    return file.has_parent_path() ? file.parent_path() : fs::path(".");
}

bool is_plain_name(const std::string& name) {
    return !name.empty() && name != "." && name != ".." && name != manifest_name &&
           name.find_first_of(std::string("/\0", 2)) == std::string::npos;
}

bool is_hash(const std::string& text) {
    return text.size() == 64 && text.find_first_not_of("0123456789abcdef") == std::string::npos;
}

std::optional<std::string> text_of(const fs::path& file) {
    std::error_code failure;
    if (!fs::is_regular_file(fs::symlink_status(file, failure))) return std::nullopt;
    if (fs::file_size(file, failure) > longest || failure) return std::nullopt;
    std::ifstream in(file, std::ios::binary);
    if (!in) return std::nullopt;
    return std::string(std::istreambuf_iterator<char>(in), {});
}

std::optional<Manifest> manifest_in(const fs::path& folder) {
    const auto text = text_of(folder / manifest_name);
    return text ? parse_manifest(*text) : std::nullopt;
}

}  // namespace

const ListedFile* Manifest::find(const std::string& name) const {
    const auto found = std::find_if(files.begin(), files.end(),
                                    [&](const ListedFile& file) { return file.name == name; });
    return found == files.end() ? nullptr : &*found;
}

std::string manifest_text(const Manifest& manifest) {
    nlohmann::ordered_json json{{"run", manifest.run}, {"files", nlohmann::ordered_json::array()}};
    for (const ListedFile& file : manifest.files)
        json["files"].push_back(
            {{"name", file.name}, {"sha256", file.sha256}, {"run", file.run}, {"set", file.set}});
    return json.dump(1) + "\n";
}

std::optional<Manifest> parse_manifest(const std::string& text) try {
    const auto json = nlohmann::json::parse(text);
    Manifest manifest{json.at("run").get<std::string>(), {}};
    for (const auto& file : json.at("files")) {
        manifest.files.push_back(
            {file.at("name").get<std::string>(), file.at("sha256").get<std::string>(),
             file.at("run").get<std::string>(), file.at("set").get<std::string>()});
        if (!is_plain_name(manifest.files.back().name) || !is_hash(manifest.files.back().sha256))
            return std::nullopt;
    }
    return manifest;
} catch (const nlohmann::json::exception&) {
    return std::nullopt;
}

std::optional<Manifest> read_manifest(const fs::path& folder) {
    std::error_code none;
    if (!fs::exists(fs::symlink_status(folder / manifest_name, none))) return std::nullopt;
    if (auto manifest = manifest_in(folder)) return manifest;
    throw Error((folder / manifest_name).string(),
                "this is not the list of files that boxroom keeps under that name",
                "move it away, or choose another folder with --out");
}

bool is_as_listed(const fs::path& folder, const ListedFile& file) {
    std::error_code none;
    return fs::is_regular_file(fs::symlink_status(folder / file.name, none)) &&
           sha256_of_file(folder / file.name) == file.sha256;
}

bool is_listed(const fs::path& file) {
    const auto manifest = manifest_in(folder_of(file));
    return manifest && manifest->find(file.filename().string());
}

void require_as_listed(const fs::path& file) {
    const auto manifest = manifest_in(folder_of(file));
    const ListedFile* listed = manifest ? manifest->find(file.filename().string()) : nullptr;
    if (listed && !is_as_listed(folder_of(file), *listed))
        throw Error(file.string(), "this is not the file that manifest.json beside it lists",
                    "run the command again that wrote it, or take it out of the folder");
}

}  // namespace boxroom
