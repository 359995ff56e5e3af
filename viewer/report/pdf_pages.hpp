// viewer/report/pdf_pages.hpp: paper with text, pictures and diagrams that flow down it and over to the next page.
//
// All lengths are points (1/72 in), y downward from the upper edge.
#pragma once

#include "scene/vec.hpp"

#include <cairo.h>
#include <pango/pangocairo.h>

#include <memory>
#include <string>
#include <vector>

namespace evenclose {

struct Ink {
    double red = 0, green = 0, blue = 0;
};
inline constexpr Ink kInk{0.133, 0.188, 0.227}, kGraphite{0.373, 0.353, 0.298}, kPencil{0.776, 0.733, 0.639};

/// How words are set: "Open Sans 9.5" with its weight.
struct Type {
    double size = 9.5;
    bool strong = false;
    Ink ink = kInk;
};

class PdfPages {
public:
    /// `pages`: how many there will be, for the foot of each; 0: not known yet.
    PdfPages(Vec2 paper, std::string foot, int pages);
    ~PdfPages();
    PdfPages(const PdfPages&) = delete;
    PdfPages& operator=(const PdfPages&) = delete;

    void set_properties(const std::string& title, const std::string& made_by, const std::string& date);

    [[nodiscard]] double left() const { return kMargin; }
    [[nodiscard]] double width() const { return paper_.x - 2 * kMargin; }
    [[nodiscard]] double y() const { return y_; }
    void down(double by) { y_ += by; }
    /// Goes to a new page unless so much still fits on this one. What is taller than a page is let be.
    void keep_together(double height);

    [[nodiscard]] double height_of(const std::string& words, const Type& type, double width);
    /// Words wrapped into `width`, the upper edge at `y`; gives their height. The pen stays where it is.
    double set(const std::string& words, const Type& type, double x, double y, double width);
    void rule(double x1, double y1, double x2, double y2, const Ink& ink, double line);
    void frame(double x, double y, double width, double height, const Ink& ink, double line);
    void fill(double x, double y, double width, double height, const Ink& ink);
    /// Scaled to `width`; gives the height.   Faults: std::runtime_error if the bytes are no PNG, or no SVG.
    double picture(const std::string& png, double x, double y, double width);
    double drawing(const std::string& svg, int svg_width, int svg_height, double x, double y, double width);

    [[nodiscard]] int page() const { return page_; }
    /// Ends the last page; nothing may be set any more.   Faults: std::runtime_error with Cairo's words.
    [[nodiscard]] std::string finish();

private:
    static constexpr double kMargin = 42.5; // 15 mm
    static constexpr double kFoot = 24;     // kept free for the page's number

    struct Closer {
        void operator()(cairo_t* it) const { cairo_destroy(it); }
        void operator()(cairo_surface_t* it) const { cairo_surface_destroy(it); }
        void operator()(PangoLayout* it) const { g_object_unref(it); }
    };
    std::unique_ptr<PangoLayout, Closer> laid(const std::string& words, const Type& type, double width);
    void end_page();

    Vec2 paper_;
    std::string foot_;
    int pages_ = 0, page_ = 1;
    double y_ = kMargin;
    std::string bytes_;
    std::unique_ptr<cairo_surface_t, Closer> surface_;
    std::unique_ptr<cairo_t, Closer> cairo_;
};

} // namespace evenclose
