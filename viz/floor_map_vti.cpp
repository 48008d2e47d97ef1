#include <algorithm>

#include <vtkDoubleArray.h>
#include <vtkImageData.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkUnsignedCharArray.h>
#include <vtkXMLImageDataWriter.h>

#include "picture/field.hpp"
#include "viz/floor_map.hpp"

namespace boxroom {

std::string floor_map_vti(const FloorMap& map) {
    require_sound(map);
    const double dx = safe_spacing(map.dx, map.dy), dy = safe_spacing(map.dy, map.dx);
    vtkNew<vtkImageData> image;
    image->SetDimensions(map.nx, map.ny, 1);
    image->SetOrigin(map.x0, map.y0, 0);
    image->SetSpacing(dx, dy, std::min(dx, dy));

    const vtkIdType points = vtkIdType(map.nx) * map.ny;
    vtkNew<vtkDoubleArray> value;
    value->SetName(map.quantity.empty() ? "value" : map.quantity.c_str());
    value->SetNumberOfValues(points);
    std::copy(map.value.begin(), map.value.end(), value->GetPointer(0));
    vtkNew<vtkUnsignedCharArray> valid;
    valid->SetName("valid");
    valid->SetNumberOfValues(points);
    std::copy(map.valid.begin(), map.valid.end(), valid->GetPointer(0));
    image->GetPointData()->SetScalars(value);
    image->GetPointData()->AddArray(valid);

    vtkNew<vtkXMLImageDataWriter> writer;
    writer->SetInputData(image);
    writer->SetDataModeToBinary();  // base64: well-formed XML, unlike the raw appended default
    writer->SetCompressorTypeToNone();
    writer->WriteToOutputStringOn();
    writer->Write();
    std::string text = writer->GetOutputString();
    // Who may write over it (files/written_mark): a comment behind the first line.
    return text.insert(text.find('\n') + 1, "<!-- written by boxroom -->\n");
}

}  // namespace boxroom
