#include "files/hdf5_pieces.hpp"

#include <cstdint>
#include <cstring>
#include <stdexcept>

#include "base/error.hpp"
#include "files/apart.hpp"
#include "files/hdf5_image.hpp"

namespace boxroom {

namespace {

constexpr const char* again = "write it anew with the same command";
constexpr char refused = 'R', taken = 'T';

/// What the child says: a letter, then numbers of eight bytes and texts behind their lengths.
class Packer {
  public:
    explicit Packer(char first) : bytes_(1, first) {}

    void add(std::uint64_t number) { append(&number, sizeof number); }
    void add(const std::string& text) {
        add(text.size());
        bytes_ += text;
    }
    void add(const std::vector<double>& numbers) {
        add(numbers.size());
        append(numbers.data(), numbers.size() * sizeof(double));
    }
    std::string take() { return std::move(bytes_); }

  private:
    void append(const void* from, std::size_t size) {
        bytes_.append(static_cast<const char*>(from), size);
    }

    std::string bytes_;
};

/// Throws std::out_of_range where the child has said less than it should.
class Unpacker {
  public:
    explicit Unpacker(std::string_view bytes) : left_(bytes) {}

    bool done() const { return left_.empty(); }
    std::uint64_t number() {
        std::uint64_t out = 0;
        std::memcpy(&out, next(sizeof out).data(), sizeof out);
        return out;
    }
    std::string text() { return std::string(next(number())); }
    std::vector<double> numbers() {
        const std::uint64_t count = number();
        if (count > left_.size() / sizeof(double)) throw std::out_of_range("numbers");
        std::vector<double> out(count);
        const std::string_view bytes = next(count * sizeof(double));
        if (count > 0) std::memcpy(out.data(), bytes.data(), bytes.size());
        return out;
    }

  private:
    std::string_view next(std::size_t size) {
        if (size > left_.size()) throw std::out_of_range("bytes");
        const std::string_view out = left_.substr(0, size);
        left_.remove_prefix(size);
        return out;
    }

    std::string_view left_;
};

Hdf5Piece unpacked(Unpacker& from) {
    Hdf5Piece piece;
    const std::uint64_t kind = from.number();
    if (kind > static_cast<std::uint64_t>(Hdf5Piece::Kind::text)) throw std::out_of_range("kind");
    piece.kind = static_cast<Hdf5Piece::Kind>(kind);
    for (std::uint64_t rank = from.number(); rank > 0; --rank) piece.shape.push_back(from.number());
    piece.numbers = from.numbers();
    for (std::uint64_t count = from.number(); count > 0; --count)
        piece.texts.push_back(from.text());
    // The child may have been made to say anything: also more than a number of eight bytes counts.
    double count = 1;
    for (const std::size_t extent : piece.shape) count *= static_cast<double>(extent);
    if (!(count < 1e15)) throw std::out_of_range("shape");
    const std::size_t each = piece.kind == Hdf5Piece::Kind::complex ? 2 : 1;
    const bool text = piece.kind == Hdf5Piece::Kind::text;
    if (piece.numbers.size() != (text ? 0 : each * piece.count()) ||
        piece.texts.size() != (text ? piece.count() : 0))
        throw std::out_of_range("shape");
    return piece;
}

}  // namespace

std::size_t Hdf5Piece::count() const {
    std::size_t product = 1;
    for (const std::size_t extent : shape) product *= extent;
    return product;
}

std::string packed_pieces(std::string_view bytes, const std::vector<std::string>& names) {
    try {
        const Hdf5Image image(bytes);
        Packer out(taken);
        for (const std::string& name : names) {
            const std::optional<Hdf5Piece> piece = image.piece(name);
            if (!piece) continue;
            out.add(name);
            out.add(static_cast<std::uint64_t>(piece->kind));
            out.add(piece->shape.size());
            for (const std::size_t extent : piece->shape) out.add(extent);
            out.add(piece->numbers);
            out.add(piece->texts.size());
            for (const std::string& text : piece->texts) out.add(text);
        }
        return out.take();
    } catch (const Hdf5Image::Refusal& refusal) {
        Packer out(refused);
        out.add(std::string(refusal.what()));
        return out.take();
    }
}

Hdf5Pieces unpacked_pieces(std::string_view said, const std::string& where) {
    if (said.empty())
        throw Error(where, "the file is damaged or crafted: reading it was given up", again);
    Unpacker from(said.substr(1));
    try {
        if (said.front() != taken) throw Error(where, from.text(), again);
        Hdf5Pieces pieces;
        while (!from.done()) {
            const std::string name = from.text();
            pieces[name] = unpacked(from);
        }
        return pieces;
    } catch (const std::out_of_range&) {
        throw Error(where, "the file is damaged or crafted: it cannot be made sense of", again);
    }
}

Hdf5Pieces hdf5_pieces(std::string_view bytes, const std::vector<std::string>& names,
                       const std::string& where) {
    // A flag of one byte becomes a number of eight.
    const std::size_t most = 8 * bytes.size() + (1 << 20);
    const auto said = worked_out_apart([&] { return packed_pieces(bytes, names); }, most);
    return unpacked_pieces(said.value_or(""), where);
}

}  // namespace boxroom
