#include "viz/png_bytes.hpp"

#include <png.h>

#include <csetjmp>
#include <new>
#include <stdexcept>

namespace boxroom {
namespace {

void take(png_structp png, png_bytep bytes, png_size_t count) {
    auto* out = static_cast<std::string*>(png_get_io_ptr(png));
    out->append(reinterpret_cast<const char*>(bytes), count);
}

void nothing_to_do(png_structp) {}
// What goes wrong is said by an exception, not on the terminal.
void give_up(png_structp png, png_const_charp) {
    png_longjmp(png, 1);
}
void pass_over(png_structp, png_const_charp) {}

/// Whether it could be written. libpng leaves by longjmp: nothing here has a destructor.
bool write(png_structp png, png_infop info, int width, int height, const std::uint8_t* rgb) {
    if (setjmp(png_jmpbuf(png))) return false;
    png_set_IHDR(png, info, static_cast<png_uint_32>(width), static_cast<png_uint_32>(height), 8,
                 PNG_COLOR_TYPE_RGB, PNG_INTERLACE_NONE, PNG_COMPRESSION_TYPE_DEFAULT,
                 PNG_FILTER_TYPE_DEFAULT);
    png_set_compression_level(png, 1);  // higher ones take several times as long for a few per cent
    png_set_filter(png, PNG_FILTER_TYPE_BASE, PNG_FILTER_NONE);
    char key[] = "Software", writer[] = "boxroom";
    png_text text{};
    text.compression = PNG_TEXT_COMPRESSION_NONE;
    text.key = key, text.text = writer;
    png_set_text(png, info, &text, 1);
    png_write_info(png, info);
    for (int y = 0; y < height; ++y)
        png_write_row(png, rgb + std::size_t(y) * std::size_t(width) * 3);
    png_write_end(png, nullptr);
    return true;
}

}  // namespace

std::string png_bytes(int width, int height, const std::vector<std::uint8_t>& rgb) {
    if (rgb.size() != 3 * std::size_t(width) * std::size_t(height))
        throw std::length_error("png_bytes: three numbers for each pixel");
    std::string out;
    png_structp png = png_create_write_struct(PNG_LIBPNG_VER_STRING, nullptr, give_up, pass_over);
    if (!png) throw std::bad_alloc();
    png_infop info = png_create_info_struct(png);
    png_set_write_fn(png, &out, take, nothing_to_do);
    const bool written = info && write(png, info, width, height, rgb.data());
    png_destroy_write_struct(&png, &info);
    if (!written) throw std::runtime_error("a picture could not be written as PNG");
    return out;
}

}  // namespace boxroom
