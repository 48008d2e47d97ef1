#include "viz/window/stage.hpp"

#include <vtkCamera.h>
#include <vtkPNGWriter.h>
#include <vtkUnsignedCharArray.h>
#include <vtkWindowToImageFilter.h>

#include <algorithm>
#include <cmath>

#include "viz/window/look.hpp"
#include "viz/window/shapes.hpp"

namespace boxroom {
namespace {

constexpr double room_share = 0.6;  // of the window's width
constexpr int bottom_strip = 30;    // [px]

}  // namespace

Stage::Stage(const RoomView& view, int width, int height, bool off_screen)
    : width_(view.width), length_(view.length), height_(view.height), bounds_{0,
                                                                              view.width,
                                                                              -view.length,
                                                                              0,
                                                                              0,
                                                                              view.height} {
    for (const CuboidLook& space : view.spaces) {
        const auto a = to_world(space.from), b = to_world(space.to);
        for (int axis = 0; axis < 3; ++axis) {
            bounds_[2 * axis] = std::min({bounds_[2 * axis], a[axis], b[axis]});
            bounds_[2 * axis + 1] = std::max({bounds_[2 * axis + 1], a[axis], b[axis]});
        }
    }
    window_ = vtkSmartPointer<vtkRenderWindow>::New();
    window_->SetOffScreenRendering(off_screen);
    window_->SetMultiSamples(0);
    window_->SetSize(width, height);
    window_->SetWindowName("boxroom");
    window_->SetNumberOfLayers(5);
    int layer = 0;
    for (auto* renderer : {&paper_, &walls_, &room_, &front_, &text_}) {
        *renderer = vtkSmartPointer<vtkRenderer>::New();
        (*renderer)->SetLayer(layer++);
        (*renderer)->InteractiveOff();
        window_->AddRenderer(*renderer);
    }
    paper_->SetBackground(look::rgb(look::paper).data());
    for (vtkRenderer* renderer : {walls_.Get(), room_.Get(), front_.Get()})
        renderer->SetViewport(0, bottom_strip / double(height), room_share, 1);
    walls_->SetActiveCamera(room_->GetActiveCamera());
    front_->SetActiveCamera(room_->GetActiveCamera());
    reset_camera();
}

Rectangle Stage::whole() const {
    const int* size = window_->GetSize();
    return {0, 0, double(size[0]), double(size[1])};
}

Rectangle Stage::room_area() const {
    const Rectangle all = whole();
    return {0, double(bottom_strip), std::floor(all.width * room_share), all.height - bottom_strip};
}

void Stage::keep_in_sight() {
    room_->ResetCameraClippingRange(bounds_.data());
}

void Stage::reset_camera() {
    vtkCamera* camera = room_->GetActiveCamera();
    const Point middle{width_ / 2, length_ / 2, 0.42 * height_};
    const double size = std::hypot(width_, length_, height_);
    // Behind the listeners, over their right shoulder, looking at the front wall.
    const Point eye{middle.x + 0.42 * size, middle.y + 1.45 * size, middle.z + 1.05 * size};
    camera->SetFocalPoint(to_world(middle).data());
    camera->SetPosition(to_world(eye).data());
    camera->SetViewUp(0, 0, 1);
    camera->SetViewAngle(30);
    keep_in_sight();
}

void Stage::orbit(double right, double up) {
    vtkCamera* camera = room_->GetActiveCamera();
    double offset[3];
    for (int i = 0; i < 3; ++i) offset[i] = camera->GetPosition()[i] - camera->GetFocalPoint()[i];
    const double distance = std::hypot(offset[0], offset[1], offset[2]);
    const double turn = std::atan2(offset[1], offset[0]) - right * M_PI / 180;
    // Never over the top: up stays up.
    const double rise = std::clamp(std::asin(offset[2] / distance) + up * M_PI / 180, -0.3, 1.52);
    const double* at = camera->GetFocalPoint();
    camera->SetPosition(at[0] + distance * std::cos(rise) * std::cos(turn),
                        at[1] + distance * std::cos(rise) * std::sin(turn),
                        at[2] + distance * std::sin(rise));
    camera->SetViewUp(0, 0, 1);
    keep_in_sight();
}

void Stage::zoom(double factor) {
    vtkCamera* camera = room_->GetActiveCamera();
    const double size = std::hypot(width_, length_, height_);
    const double wanted = std::clamp(camera->GetDistance() / factor, 0.3 * size, 6 * size);
    camera->Dolly(camera->GetDistance() / wanted);
    keep_in_sight();
}

void Stage::pan(double right, double up) {
    vtkCamera* camera = room_->GetActiveCamera();
    const double pixel = 2 * camera->GetDistance() * std::tan(camera->GetViewAngle() * M_PI / 360) /
                         room_area().height;
    double to[3], side[3], *above = camera->GetViewUp();
    for (int i = 0; i < 3; ++i) to[i] = camera->GetDirectionOfProjection()[i];
    side[0] = to[1] * above[2] - to[2] * above[1];
    side[1] = to[2] * above[0] - to[0] * above[2];
    side[2] = to[0] * above[1] - to[1] * above[0];
    const double length = std::hypot(side[0], side[1], side[2]);
    const double* eye = camera->GetPosition();
    const double* focus = camera->GetFocalPoint();
    double shift[3];
    for (int i = 0; i < 3; ++i) shift[i] = -pixel * (right * side[i] / length + up * above[i]);
    camera->SetPosition(eye[0] + shift[0], eye[1] + shift[1], eye[2] + shift[2]);
    camera->SetFocalPoint(focus[0] + shift[0], focus[1] + shift[1], focus[2] + shift[2]);
    keep_in_sight();
}

void Stage::set_smooth(bool smooth) {
    walls_->SetUseFXAA(smooth);
    room_->SetUseFXAA(smooth);
}

Ray Stage::ray(double x, double y) {
    const auto at_depth = [&](double depth) {
        double world[4];
        room_->SetDisplayPoint(x, y, depth);
        room_->DisplayToWorld();
        room_->GetWorldPoint(world);
        for (int i = 0; i < 3; ++i) world[i] /= world[3];
        return from_world(world);
    };
    const Point near = at_depth(0), far = at_depth(1);
    return {near, {far.x - near.x, far.y - near.y, far.z - near.z}};
}

Pixel Stage::pixel(const Point& p) {
    const auto world = to_world(p);
    double display[3];
    room_->SetWorldPoint(world[0], world[1], world[2], 1);
    room_->WorldToDisplay();
    room_->GetDisplayPoint(display);
    return {display[0], display[1]};
}

std::optional<Point> Stage::meet_level(const Ray& ray, double z) {
    const double share = (z - ray.from.z) / ray.along[2];
    if (!(share > 0) || !std::isfinite(share)) return std::nullopt;
    return Point{ray.from.x + share * ray.along[0], ray.from.y + share * ray.along[1], z};
}

std::string Stage::picture() {
    vtkNew<vtkWindowToImageFilter> grab;
    grab->SetInput(window_);
    grab->SetInputBufferTypeToRGB();
    grab->ReadFrontBufferOff();
    grab->ShouldRerenderOff();
    vtkNew<vtkPNGWriter> writer;
    writer->SetInputConnection(grab->GetOutputPort());
    writer->AddText("Software", "boxroom");  // who may write over it: files/written_mark
    writer->WriteToMemoryOn();
    writer->Write();
    const vtkUnsignedCharArray* bytes = writer->GetResult();
    auto* all = const_cast<vtkUnsignedCharArray*>(bytes);
    return {reinterpret_cast<const char*>(all->GetPointer(0)),
            static_cast<std::size_t>(all->GetNumberOfTuples())};
}

}  // namespace boxroom
