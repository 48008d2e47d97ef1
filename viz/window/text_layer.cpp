#include "viz/window/text_layer.hpp"

#include <vtkTextProperty.h>

#include "viz/text.hpp"
#include "viz/window/look.hpp"

namespace boxroom {
namespace {

/// Line by line, since printable() makes one line of everything.
std::string all_printable(const std::string& text) {
    std::string out;
    for (std::size_t begin = 0; begin <= text.size();) {
        const std::size_t end = std::min(text.find('\n', begin), text.size());
        if (begin > 0) out += '\n';
        out += printable(text.substr(begin, end - begin));
        begin = end + 1;
    }
    return out;
}

}  // namespace

void TextLayer::begin() {
    used_ = 0;
    placed_.clear();
}

vtkTextActor* TextLayer::actor(const std::string& text, const Lettering& style) {
    if (used_ == pool_.size()) {
        pool_.push_back(vtkSmartPointer<vtkTextActor>::New());
        pool_.back()->GetTextProperty()->SetFontFamilyToArial();
        pool_.back()->GetTextProperty()->SetVerticalJustificationToBottom();
        renderer_->AddViewProp(pool_.back());
    }
    vtkTextActor* actor = pool_[used_];
    const std::string shown = all_printable(text);
    if (!actor->GetInput() || shown != actor->GetInput()) actor->SetInput(shown.c_str());
    vtkTextProperty* property = actor->GetTextProperty();
    property->SetFontSize(style.size);
    property->SetBold(style.bold);
    property->SetColor(look::rgb(style.colour).data());
    property->SetBackgroundColor(look::rgb(look::paper).data());
    property->SetBackgroundOpacity(style.backing);
    return actor;
}

Rectangle TextLayer::measure(const std::string& text, const Lettering& style) {
    double size[2] = {0, 0};
    actor(text, style)->GetSize(renderer_, size);  // takes the next actor without using it up
    return {0, 0, size[0], size[1]};
}

Rectangle TextLayer::put(double x, double y, const std::string& text, const Lettering& style) {
    const Rectangle size = measure(text, style);
    const double left = style.across < 0   ? x
                        : style.across > 0 ? x - size.width
                                           : x - size.width / 2;
    vtkTextActor* shown = pool_[used_++];
    shown->SetDisplayPosition(static_cast<int>(left), static_cast<int>(y));
    shown->VisibilityOn();
    placed_.push_back({text, {left, y, size.width, size.height}});
    return placed_.back().where;
}

void TextLayer::end() {
    for (std::size_t i = used_; i < pool_.size(); ++i) pool_[i]->VisibilityOff();
}

}  // namespace boxroom
