#include "viz/window/curve_panel.hpp"

#include <vtkAxis.h>
#include <vtkBrush.h>
#include <vtkContextScene.h>
#include <vtkDoubleArray.h>
#include <vtkPen.h>
#include <vtkPlot.h>
#include <vtkStringArray.h>
#include <vtkTextProperty.h>

#include <algorithm>
#include <cmath>

#include "viz/window/look.hpp"

namespace boxroom {
namespace {

/// The curves in the order they are drawn; the seats follow at the end, then what was measured.
enum Fixed : std::size_t {
    half_space,
    target,
    spread,
    mode_ticks,
    level_cursor,
    spread_cursor,
    average,
    fixed
};

vtkSmartPointer<vtkTable> two_columns() {
    auto table = vtkSmartPointer<vtkTable>::New();
    for (const char* name : {"x", "y"}) {
        vtkNew<vtkDoubleArray> column;
        column->SetName(name);
        table->AddColumn(column);
    }
    return table;
}

void style_axis(vtkAxis* axis, const char* title) {
    axis->SetTitle(title);
    for (vtkTextProperty* text : {axis->GetTitleProperties(), axis->GetLabelProperties()}) {
        text->SetFontSize(12);
        text->SetBold(false);
        text->SetColor(look::rgb(look::ink).data());
    }
    axis->GetPen()->SetColor(look::edge.r, look::edge.g, look::edge.b);
    axis->GetGridPen()->SetColor(look::grid.r, look::grid.g, look::grid.b);
    axis->SetBehavior(vtkAxis::FIXED);
}

void set_ticks(vtkAxis* axis, const std::vector<double>& at,
               const std::vector<std::string>& words) {
    vtkNew<vtkDoubleArray> positions;
    vtkNew<vtkStringArray> labels;
    for (std::size_t i = 0; i < at.size(); ++i) {
        positions->InsertNextValue(at[i]);
        labels->InsertNextValue(words[i]);
    }
    axis->SetCustomTickPositions(positions, labels);
}

std::vector<double> steps(double low, double high, double step) {
    std::vector<double> at;
    for (double v = low; v <= high + step / 1e6; v += step) at.push_back(v);
    return at;
}

std::vector<std::string> words(const std::vector<double>& values) {
    std::vector<std::string> out;
    for (double v : values) out.push_back(std::to_string(std::lround(v)));
    return out;
}

/// Octaves and thirds that people know, as far as the axis goes.
void frequency_axis(vtkAxis* axis, double first, double last, bool named) {
    std::vector<double> at;
    std::vector<std::string> labels;
    for (int f : {5, 10, 15, 20, 30, 40, 50, 60, 80, 100, 150, 200, 300, 400, 500, 800, 1000})
        if (f >= first * 0.999 && f <= last * 1.001) {
            at.push_back(std::log10(double(f)));
            const bool crowded = f == 15 || f == 60 || (f == 80 && last > 150);
            labels.push_back(crowded ? "" : std::to_string(f));
        }
    style_axis(axis, named ? "frequency / Hz" : "");
    axis->SetRange(std::log10(first), std::log10(last));
    set_ticks(axis, at, labels);
}

}  // namespace

CurvePanel::CurvePanel(const RoomView& view, vtkRenderer* renderer)
    : first_(view.frequency.front()),
      last_(std::max(view.frequency.back(), view.frequency.front() * 1.01)),
      band_low_(view.band_low),
      band_high_(view.band_high),
      modes_(view.modes),
      seats_(view.start.seats.size()),
      measured_(view.measured) {
    actor_ = vtkSmartPointer<vtkContextActor>::New();
    actor_->GetScene()->SetRenderer(renderer);
    renderer->AddActor(actor_);
    level_ = vtkSmartPointer<vtkChartXY>::New();
    spread_ = vtkSmartPointer<vtkChartXY>::New();
    for (vtkChartXY* chart : {level_.Get(), spread_.Get()}) {
        chart->SetAutoSize(false);
        chart->SetLayoutStrategy(vtkChart::AXES_TO_RECT);
        chart->SetInteractive(false);
        chart->SetShowLegend(false);
        frequency_axis(chart->GetAxis(vtkAxis::BOTTOM), first_, last_, chart == spread_);
        actor_->GetScene()->AddItem(chart);
    }
    style_axis(level_->GetAxis(vtkAxis::LEFT), "level / dB");
    style_axis(spread_->GetAxis(vtkAxis::LEFT), "spread / dB");
    for (vtkChartXY* chart : {level_.Get(), spread_.Get()})  // no numbers before there are any
        set_ticks(chart->GetAxis(vtkAxis::LEFT), {}, {});

    curves_.resize(fixed + seats_ + measured_.size());
    const auto add = [&](std::size_t at, vtkChartXY* chart, Colour colour, double width,
                         int dashes) {
        curves_[at].plot = add_curve(chart, colour, width, dashes);
        curves_[at].table = two_columns();
    };
    add(mode_ticks, level_, look::faint, 1, vtkPen::SOLID_LINE);
    add(half_space, level_, look::half_space, 2, vtkPen::DASH_LINE);
    add(target, level_, look::target, 2, vtkPen::DASH_DOT_LINE);
    for (std::size_t s = 0; s < seats_; ++s)
        add(fixed + s, level_, look::seat(s), 1.4, vtkPen::SOLID_LINE);
    add(average, level_, look::ink, 3, vtkPen::SOLID_LINE);
    for (std::size_t m = 0; m < measured_.size(); ++m)
        add(fixed + seats_ + m, level_, look::seat(measured_[m].seat), 2.4, vtkPen::DOT_LINE);
    add(level_cursor, level_, look::cursor, 1.4, vtkPen::SOLID_LINE);
    add(spread, spread_, look::ink, 2, vtkPen::SOLID_LINE);
    add(spread_cursor, spread_, look::cursor, 1.4, vtkPen::SOLID_LINE);
}

vtkPlot* CurvePanel::add_curve(vtkChartXY* chart, Colour colour, double width, int dashes) {
    vtkPlot* plot = chart->AddPlot(vtkChart::LINE);
    plot->SetColor(colour.r, colour.g, colour.b, 255);
    plot->SetWidth(static_cast<float>(width));
    plot->GetPen()->SetLineType(dashes);
    plot->SetVisible(false);  // until there is something to draw
    return plot;
}

void CurvePanel::place(const Rectangle& level, const Rectangle& spread_place) {
    const auto set = [](vtkChartXY* chart, const Rectangle& r) {
        chart->SetSize(vtkRectf(float(r.x), float(r.y), float(r.width), float(r.height)));
    };
    set(level_, level);
    set(spread_, spread_place);
}

void CurvePanel::fill(std::size_t curve, const std::vector<double>& x,
                      const std::vector<double>& y) {
    Curve& c = curves_[curve];
    auto* to_x = vtkDoubleArray::SafeDownCast(c.table->GetColumn(0));
    auto* to_y = vtkDoubleArray::SafeDownCast(c.table->GetColumn(1));
    to_x->SetNumberOfTuples(vtkIdType(x.size()));
    to_y->SetNumberOfTuples(vtkIdType(x.size()));
    for (std::size_t i = 0; i < x.size(); ++i) {
        to_x->SetValue(vtkIdType(i), std::log10(x[i]));
        to_y->SetValue(vtkIdType(i), y[i]);
    }
    to_x->Modified();
    to_y->Modified();
    c.table->Modified();
    c.plot->SetInputData(c.table, 0, 1);
    c.plot->SetVisible(x.size() > 1);
}

void CurvePanel::set_level_range(const Listening& heard) {
    double top = -300;
    for (double level : heard.level_db.values()) top = std::max(top, level);
    for (double level : heard.half_space_db) top = std::max(top, level);
    high_ = 10 * std::ceil((top + 1) / 10);
    low_ = high_ - 60;
    vtkAxis* axis = level_->GetAxis(vtkAxis::LEFT);
    axis->SetRange(low_, high_);
    set_ticks(axis, steps(low_, high_, 10), words(steps(low_, high_, 10)));
}

void CurvePanel::show(const Listening& heard, bool as_measured) {
    const std::size_t count = heard.frequency.size(), seats = heard.seats.size();
    if (seats != seats_ || count == 0) return;
    set_level_range(heard);
    // What lies below the axis is drawn along its edge, not through the labels.
    const auto within = [&](double level) { return std::clamp(level, low_, high_); };
    double total = 0;
    for (const Seat& seat : heard.seats) total += seat.weight;
    std::vector<double> line(count), spread_db(count);
    for (std::size_t s = 0; s < seats; ++s) {
        for (std::size_t f = 0; f < count; ++f) line[f] = within(heard.level_db(f, s));
        fill(fixed + s, heard.frequency, line);
    }
    for (std::size_t f = 0; f < count; ++f) {
        double mean = 0, square = 0;
        for (std::size_t s = 0; s < seats; ++s) {
            const double share = heard.seats[s].weight / total, db = heard.level_db(f, s);
            mean += share * db;
            square += share * db * db;
        }
        spread_db[f] = std::sqrt(std::max(0.0, square - mean * mean));
    }
    const auto clamped = [&](const std::vector<double>& from) {
        std::vector<double> to;
        for (double v : from) to.push_back(within(v));
        return to;
    };
    fill(average, heard.frequency, clamped(heard.seat_average_db));
    fill(half_space, heard.frequency, clamped(heard.half_space_db));
    for (std::size_t m = 0; m < measured_.size(); ++m)
        fill(fixed + seats_ + m, as_measured ? measured_[m].frequency : std::vector<double>(),
             clamped(measured_[m].level_db));
    std::vector<double> band, wanted;
    for (std::size_t f = 0; f < count && f < heard.target_db.size(); ++f)
        if (heard.frequency[f] >= band_low_ * 0.9999 && heard.frequency[f] <= band_high_ * 1.0001)
            band.push_back(heard.frequency[f]), wanted.push_back(within(heard.target_db[f]));
    fill(target, band, wanted);

    most_ = std::max(most_, *std::max_element(spread_db.begin(), spread_db.end()));
    most_ = 4 * std::ceil(most_ / 4);
    vtkAxis* axis = spread_->GetAxis(vtkAxis::LEFT);
    axis->SetRange(0, most_);
    set_ticks(axis, steps(0, most_, most_ / 4), words(steps(0, most_, most_ / 4)));
    fill(spread, heard.frequency, spread_db);

    std::vector<double> x{first_}, y{low_};
    for (const ModeTick& mode : modes_) {
        if (mode.frequency < first_ || mode.frequency > last_) continue;
        const bool axial = (mode.order[0] > 0) + (mode.order[1] > 0) + (mode.order[2] > 0) == 1;
        for (double up : {0.0, axial ? 3.0 : 1.5, 0.0})
            x.push_back(mode.frequency), y.push_back(low_ + up);
    }
    fill(mode_ticks, x, y);
}

void CurvePanel::set_cursor(double frequency) {
    fill(level_cursor, {frequency, frequency}, {low_, high_});
    fill(spread_cursor, {frequency, frequency}, {0, most_});
}

Rectangle CurvePanel::plot_area() const {
    const int *low = level_->GetPoint1(), *high = level_->GetPoint2();
    return {double(low[0]), double(low[1]), double(high[0] - low[0]), double(high[1] - low[1])};
}

double CurvePanel::x_of(double frequency) const {
    const Rectangle plot = plot_area();
    return plot.x + plot.width * std::log(frequency / first_) / std::log(last_ / first_);
}

std::optional<double> CurvePanel::frequency_at(double x, double y) const {
    for (vtkChartXY* chart : {level_.Get(), spread_.Get()}) {
        const int *low = chart->GetPoint1(), *high = chart->GetPoint2();
        if (x < low[0] - 4 || x > high[0] + 4 || y < low[1] || y > high[1] || high[0] <= low[0])
            continue;
        const double share = std::clamp((x - low[0]) / double(high[0] - low[0]), 0.0, 1.0);
        return first_ * std::pow(last_ / first_, share);
    }
    return std::nullopt;
}

}  // namespace boxroom
