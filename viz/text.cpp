#include "viz/text.hpp"

#include <mutex>

#include <vtkImageData.h>
#include <vtkNew.h>
#include <vtkStdString.h>
#include <vtkTextProperty.h>
#include <vtkTextRenderer.h>

#include "base/error.hpp"

namespace boxroom {

void use_font_module();  // font_module.cpp; the call keeps that file from being left out by the
                         // linker

TextImage set_text(std::string_view text, const TextStyle& style) {
    TextImage out;
    const std::string line = printable(text);
    if (line.find_first_not_of(' ') == std::string::npos) return out;
    use_font_module();
    vtkTextRenderer* renderer = vtkTextRenderer::GetInstance();
    if (renderer == nullptr)
        throw Error("set_text", "VTK has no font module in this program",
                    "link VTK::RenderingFreeType");
    // Its one cache of fonts serves all threads that draw.
    static std::mutex one_at_a_time;
    const std::scoped_lock lock(one_at_a_time);
    vtkNew<vtkTextProperty> property;
    property->SetFontFamilyToArial();
    property->SetFontSize(style.size);
    property->SetBold(style.bold);
    property->SetColor(0, 0, 0);
    vtkNew<vtkImageData> image;
    int size[2] = {0, 0};
    // The FreeType back end by name: the default would read "$...$" as a formula. 72 dpi: 1 pt = 1
    // px.
    if (!renderer->RenderString(property, vtkStdString(line), image, size, 72,
                                vtkTextRenderer::FreeType))
        return out;
    const int width = size[0], height = size[1];
    if (width <= 0 || height <= 0) return out;
    out.width = style.upwards ? height : width;
    out.height = style.upwards ? width : height;
    out.coverage.resize(std::size_t(width) * std::size_t(height));
    int extent[6];
    image->GetExtent(extent);
    for (int j = 0; j < height; ++j) {
        for (int i = 0; i < width; ++i) {
            // RGBA, rows from the bottom; the text fills the lower left corner of the image.
            const auto* rgba = static_cast<const std::uint8_t*>(
                image->GetScalarPointer(extent[0] + i, extent[2] + j, 0));
            const int x = style.upwards ? height - 1 - j : i;
            const int y = style.upwards ? width - 1 - i : height - 1 - j;
            out.coverage[std::size_t(y) * std::size_t(out.width) + std::size_t(x)] =
                rgba == nullptr ? std::uint8_t(0) : rgba[3];
        }
    }
    return out;
}

}  // namespace boxroom
