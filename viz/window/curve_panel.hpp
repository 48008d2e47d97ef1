#pragma once
#include <vtkChartXY.h>
#include <vtkContextActor.h>
#include <vtkRenderer.h>
#include <vtkSmartPointer.h>
#include <vtkTable.h>

#include <optional>
#include <vector>

#include "results/room_view.hpp"
#include "viz/canvas.hpp"

namespace boxroom {

/// The curves beside the room: level at every seat, seat average, half space and target, with ticks
/// for the modes, dotted what was recorded; below it the spread over frequency; a cursor through
/// both.
class CurvePanel {
  public:
    CurvePanel(const RoomView& view, vtkRenderer* renderer);

    /// The areas inside the axes of both charts [px of the window, y upwards].
    void place(const Rectangle& level, const Rectangle& spread);
    /// `as_measured`: what the file's recordings heard belongs to this.
    void show(const Listening& heard, bool as_measured);
    void set_cursor(double frequency);

    /// The frequency under a pixel of the window, if it lies in a chart.
    std::optional<double> frequency_at(double x, double y) const;
    /// Where a frequency stands across the window [px].
    double x_of(double frequency) const;
    /// The area inside the axes of the level chart, as drawn last [px, y upwards].
    Rectangle plot_area() const;

    double level_low() const { return low_; }
    double level_high() const { return high_; }

  private:
    vtkPlot* add_curve(vtkChartXY* chart, Colour colour, double width, int dashes);
    void set_level_range(const Listening& heard);
    void fill(std::size_t curve, const std::vector<double>& x, const std::vector<double>& y);

    struct Curve {
        vtkSmartPointer<vtkPlot> plot;
        vtkSmartPointer<vtkTable> table;
    };
    double first_, last_;  ///< frequency [Hz]
    double band_low_, band_high_;
    double low_ = 40, high_ = 100, most_ = 0;  ///< axes [dB]
    std::vector<ModeTick> modes_;
    vtkSmartPointer<vtkContextActor> actor_;
    vtkSmartPointer<vtkChartXY> level_, spread_;
    std::vector<Curve> curves_;  ///< see the enumeration in the source
    std::size_t seats_ = 0;
    std::vector<MeasuredCurve> measured_;
};

}  // namespace boxroom
