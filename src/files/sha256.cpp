#include "files/sha256.hpp"

#include <openssl/evp.h>

#include <array>
#include <fstream>
#include <memory>
#include <new>

namespace boxroom {

namespace {

class Digest {
  public:
    Digest() : context_(EVP_MD_CTX_new(), EVP_MD_CTX_free) {
        // Nothing but memory can be missing here.
        if (!context_ || EVP_DigestInit_ex(context_.get(), EVP_sha256(), nullptr) != 1)
            throw std::bad_alloc();
    }
    void add(std::string_view bytes) {
        if (EVP_DigestUpdate(context_.get(), bytes.data(), bytes.size()) != 1)
            throw std::bad_alloc();
    }
    std::string hexadecimal() {
        std::array<unsigned char, 32> sum{};
        if (EVP_DigestFinal_ex(context_.get(), sum.data(), nullptr) != 1) throw std::bad_alloc();
        std::string text;
        for (const unsigned char byte : sum) {
            text += "0123456789abcdef"[byte >> 4];
            text += "0123456789abcdef"[byte & 15];
        }
        return text;
    }

  private:
    std::unique_ptr<EVP_MD_CTX, decltype(&EVP_MD_CTX_free)> context_;
};

}  // namespace

std::string sha256(std::string_view bytes) {
    return sha256(std::vector{bytes});
}

std::string sha256(const std::vector<std::string_view>& pieces) {
    Digest digest;
    for (const std::string_view piece : pieces) digest.add(piece);
    return digest.hexadecimal();
}

std::optional<std::string> sha256_of_file(const std::filesystem::path& path) {
    std::error_code none;
    if (!std::filesystem::is_regular_file(path, none)) return std::nullopt;  // a pipe would wait
    std::ifstream file(path, std::ios::binary);
    if (!file) return std::nullopt;
    Digest digest;
    std::array<char, 1 << 16> piece{};
    do {
        file.read(piece.data(), piece.size());
        digest.add({piece.data(), static_cast<std::size_t>(file.gcount())});
    } while (file);
    if (file.bad()) return std::nullopt;
    return digest.hexadecimal();
}

}  // namespace boxroom
