#include "viewer/render/overlay.hpp"

#include <fmt/format.h>
#include <pango/pangocairo.h>

#include <cstddef>
#include <cstdint>
#include <stdexcept>

namespace evenclose {
namespace {

struct Release {
    void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
    void operator()(cairo_t* cairo) const { cairo_destroy(cairo); }
    void operator()(char* text) const { g_free(text); }
    void operator()(PangoLayout* layout) const { g_object_unref(layout); }
    void operator()(PangoFontDescription* font) const { pango_font_description_free(font); }
};

} // namespace

struct Overlay::Inner {
    std::unique_ptr<cairo_surface_t, Release> surface;
    std::unique_ptr<cairo_t, Release> cairo;

    void ink(const Colour& colour) const {
        cairo_set_source_rgba(cairo.get(), colour.red, colour.green, colour.blue, colour.alpha);
    }
    [[nodiscard]] std::unique_ptr<PangoLayout, Release> laid(const std::string& words, double size, bool strong) const {
        std::unique_ptr<PangoLayout, Release> layout{pango_cairo_create_layout(cairo.get())};
        const std::unique_ptr<PangoFontDescription, Release> font{
            pango_font_description_from_string("Open Sans, DejaVu Sans")};
        pango_font_description_set_absolute_size(font.get(), size * PANGO_SCALE);
        pango_font_description_set_weight(font.get(), strong ? PANGO_WEIGHT_SEMIBOLD : PANGO_WEIGHT_NORMAL);
        pango_layout_set_font_description(layout.get(), font.get());
        pango_layout_set_single_paragraph_mode(layout.get(), TRUE);
        // A file's name may be any bytes; Pango wants text.
        const std::unique_ptr<char, Release> text{g_utf8_make_valid(words.data(), static_cast<gssize>(words.size()))};
        pango_layout_set_text(layout.get(), text.get(), -1);
        return layout;
    }
};

Overlay::Overlay(Image& image) : image_(image), inner_(std::make_unique<Inner>()) {
    inner_->surface.reset(cairo_image_surface_create(CAIRO_FORMAT_ARGB32, image.width, image.height));
    if (const cairo_status_t status = cairo_surface_status(inner_->surface.get()); status != CAIRO_STATUS_SUCCESS) {
        throw std::runtime_error(fmt::format("no words can be laid over a picture of {} x {} pixels: {}", image.width,
                                             image.height, cairo_status_to_string(status)));
    }
    inner_->cairo.reset(cairo_create(inner_->surface.get()));
    cairo_font_options_t* plain = cairo_font_options_create(); // the same picture on every desktop
    cairo_font_options_set_antialias(plain, CAIRO_ANTIALIAS_GRAY);
    cairo_font_options_set_hint_metrics(plain, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_hint_style(plain, CAIRO_HINT_STYLE_NONE);
    cairo_set_font_options(inner_->cairo.get(), plain);
    cairo_font_options_destroy(plain);
}

Overlay::~Overlay() {
    cairo_surface_flush(inner_->surface.get());
    const unsigned char* over = cairo_image_surface_get_data(inner_->surface.get());
    const auto stride = static_cast<std::size_t>(cairo_image_surface_get_stride(inner_->surface.get()));
    for (std::size_t y = 0; over != nullptr && y < static_cast<std::size_t>(image_.height); ++y) {
        const auto* from = reinterpret_cast<const std::uint32_t*>(over + y * stride); // as Cairo says its rows are
        std::uint8_t* to = &image_.rgba[4 * y * static_cast<std::size_t>(image_.width)];
        for (std::size_t x = 0; x < static_cast<std::size_t>(image_.width); ++x, to += 4) {
            const std::uint32_t pixel = from[x];
            const std::uint32_t alpha = pixel >> 24U;
            if (alpha == 0) {
                continue;
            }
            for (unsigned channel = 0; channel < 3; ++channel) { // colours come multiplied by their alpha
                const std::uint32_t colour = pixel >> (16U - 8U * channel) & 0xffU;
                const std::uint32_t under = to[channel];
                to[channel] = static_cast<std::uint8_t>(colour + (under * (255U - alpha) + 127U) / 255U);
            }
        }
    }
}

void Overlay::fill(double left, double top, double width, double height, const Colour& colour) {
    inner_->ink(colour);
    cairo_rectangle(inner_->cairo.get(), left, top, width, height);
    cairo_fill(inner_->cairo.get());
}

void Overlay::outline(double left, double top, double width, double height, double line, const Colour& colour) {
    inner_->ink(colour);
    cairo_set_line_width(inner_->cairo.get(), line);
    cairo_rectangle(inner_->cairo.get(), left + 0.5 * line, top + 0.5 * line, width - line, height - line);
    cairo_stroke(inner_->cairo.get());
}

void Overlay::line(double x1, double y1, double x2, double y2, double width, const Colour& colour) {
    inner_->ink(colour);
    cairo_set_line_width(inner_->cairo.get(), width);
    cairo_set_line_cap(inner_->cairo.get(), CAIRO_LINE_CAP_ROUND);
    cairo_move_to(inner_->cairo.get(), x1, y1);
    cairo_line_to(inner_->cairo.get(), x2, y2);
    cairo_stroke(inner_->cairo.get());
}

void Overlay::dot(double x, double y, double radius, const Colour& colour) {
    inner_->ink(colour);
    cairo_arc(inner_->cairo.get(), x, y, radius, 0, 2 * G_PI);
    cairo_fill(inner_->cairo.get());
}

void Overlay::words(double left, double top, double size, const std::string& words, const Colour& colour, bool strong,
                    double room) {
    const auto layout = inner_->laid(words, size, strong);
    if (room > 0) {
        pango_layout_set_width(layout.get(), static_cast<int>(room * PANGO_SCALE));
        pango_layout_set_ellipsize(layout.get(), PANGO_ELLIPSIZE_END);
    }
    inner_->ink(colour);
    // Lines of any font sit alike: by the base line, not by what fonts were needed for the letters.
    const double base = top + 0.5 * (height_of(size) - size) + 0.85 * size;
    cairo_move_to(inner_->cairo.get(), left,
                  base - static_cast<double>(pango_layout_get_baseline(layout.get())) / PANGO_SCALE);
    pango_cairo_show_layout(inner_->cairo.get(), layout.get());
}

double Overlay::width_of(const std::string& words, double size, bool strong) const {
    int width = 0;
    pango_layout_get_size(inner_->laid(words, size, strong).get(), &width, nullptr);
    return static_cast<double>(width) / PANGO_SCALE;
}

double Overlay::height_of(double size) const { return 1.36 * size; }

} // namespace evenclose
