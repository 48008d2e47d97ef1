#include "viz/window/patches.hpp"

#include <vtkCellArray.h>
#include <vtkCellData.h>
#include <vtkPoints.h>
#include <vtkPolyDataMapper2D.h>
#include <vtkUnsignedCharArray.h>

#include <cmath>

namespace boxroom {

Patches::Patches(vtkRenderer* renderer) {
    data_ = vtkSmartPointer<vtkPolyData>::New();
    begin();
    vtkNew<vtkPolyDataMapper2D> mapper;
    mapper->SetInputData(data_);
    vtkNew<vtkActor2D> actor;
    actor->SetMapper(mapper);
    renderer->AddViewProp(actor);
}

void Patches::begin() {
    vtkNew<vtkUnsignedCharArray> colours;
    colours->SetNumberOfComponents(4);
    data_->SetPoints(vtkSmartPointer<vtkPoints>::New());
    data_->SetPolys(vtkSmartPointer<vtkCellArray>::New());
    data_->GetCellData()->SetScalars(colours);
}

void Patches::put(const Rectangle& r, Colour colour, double opacity) {
    vtkPoints* points = data_->GetPoints();
    const vtkIdType corner[4] = {points->InsertNextPoint(r.x, r.y, 0),
                                 points->InsertNextPoint(r.right(), r.y, 0),
                                 points->InsertNextPoint(r.right(), r.bottom(), 0),
                                 points->InsertNextPoint(r.x, r.bottom(), 0)};
    data_->GetPolys()->InsertNextCell(4, corner);
    const unsigned char rgba[4] = {colour.r, colour.g, colour.b,
                                   static_cast<unsigned char>(std::lround(255 * opacity))};
    vtkUnsignedCharArray::SafeDownCast(data_->GetCellData()->GetScalars())
        ->InsertNextTypedTuple(rgba);
}

void Patches::end() {
    data_->GetPoints()->Modified();
    data_->GetPolys()->Modified();
    data_->GetCellData()->GetScalars()->Modified();
    data_->Modified();
}

}  // namespace boxroom
