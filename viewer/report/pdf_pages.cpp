#include "viewer/report/pdf_pages.hpp"

#include <cairo-pdf.h>
#include <fmt/format.h>
#include <librsvg/rsvg.h>

#include <algorithm>
#include <cstring>
#include <exception>
#include <new>
#include <stdexcept>

namespace evenclose {
namespace {

/// Called from within C, which nothing may be thrown through.
cairo_status_t append(void* bytes, const unsigned char* data, unsigned length) noexcept {
    try {
        static_cast<std::string*>(bytes)->append(reinterpret_cast<const char*>(data), length);
        return CAIRO_STATUS_SUCCESS;
    } catch (const std::exception&) {
        return CAIRO_STATUS_NO_MEMORY;
    }
}

void check_memory(cairo_surface_t* surface) {
    if (cairo_surface_status(surface) == CAIRO_STATUS_NO_MEMORY) {
        throw std::bad_alloc();
    }
}

struct Source {
    const std::string* bytes;
    std::size_t at = 0;
};

cairo_status_t take(void* source, unsigned char* into, unsigned length) {
    auto& from = *static_cast<Source*>(source);
    if (from.at + length > from.bytes->size()) {
        return CAIRO_STATUS_READ_ERROR;
    }
    std::memcpy(into, from.bytes->data() + from.at, length);
    from.at += length;
    return CAIRO_STATUS_SUCCESS;
}

} // namespace

PdfPages::PdfPages(Vec2 paper, std::string foot, int pages) : paper_{paper}, foot_{std::move(foot)}, pages_{pages} {
    surface_.reset(cairo_pdf_surface_create_for_stream(append, &bytes_, paper.x, paper.y));
    cairo_pdf_surface_restrict_to_version(surface_.get(), CAIRO_PDF_VERSION_1_5);
    cairo_.reset(cairo_create(surface_.get()));
}

PdfPages::~PdfPages() = default;

void PdfPages::set_properties(const std::string& title, const std::string& made_by, const std::string& date) {
    cairo_pdf_surface_set_metadata(surface_.get(), CAIRO_PDF_METADATA_TITLE, title.c_str());
    cairo_pdf_surface_set_metadata(surface_.get(), CAIRO_PDF_METADATA_CREATOR, made_by.c_str());
    // Else Cairo writes the clock's time, and two reports of one day would differ.
    cairo_pdf_surface_set_metadata(surface_.get(), CAIRO_PDF_METADATA_CREATE_DATE, (date + "T00:00:00Z").c_str());
    cairo_pdf_surface_set_metadata(surface_.get(), CAIRO_PDF_METADATA_MOD_DATE, (date + "T00:00:00Z").c_str());
}

void PdfPages::keep_together(double height) {
    if (y_ + height > paper_.y - kMargin - kFoot && y_ > kMargin) {
        end_page();
        ++page_;
        y_ = kMargin;
    }
}

std::unique_ptr<PangoLayout, PdfPages::Closer> PdfPages::laid(const std::string& words, const Type& type,
                                                              double width) {
    std::unique_ptr<PangoLayout, Closer> layout{pango_cairo_create_layout(cairo_.get())};
    const std::unique_ptr<PangoFontDescription, decltype(&pango_font_description_free)> font{
        pango_font_description_from_string("Open Sans, DejaVu Sans"), pango_font_description_free};
    pango_font_description_set_absolute_size(font.get(), type.size * PANGO_SCALE);
    pango_font_description_set_weight(font.get(), type.strong ? PANGO_WEIGHT_SEMIBOLD : PANGO_WEIGHT_NORMAL);
    pango_layout_set_font_description(layout.get(), font.get());
    pango_layout_set_width(layout.get(), static_cast<int>(width * PANGO_SCALE));
    pango_layout_set_wrap(layout.get(), PANGO_WRAP_WORD_CHAR);
    pango_layout_set_text(layout.get(), words.c_str(), static_cast<int>(words.size()));
    return layout;
}

double PdfPages::height_of(const std::string& words, const Type& type, double width) {
    int height = 0;
    pango_layout_get_size(laid(words, type, width).get(), nullptr, &height);
    return static_cast<double>(height) / PANGO_SCALE;
}

double PdfPages::set(const std::string& words, const Type& type, double x, double y, double width) {
    const auto layout = laid(words, type, width);
    cairo_set_source_rgb(cairo_.get(), type.ink.red, type.ink.green, type.ink.blue);
    cairo_move_to(cairo_.get(), x, y);
    pango_cairo_show_layout(cairo_.get(), layout.get());
    int height = 0;
    pango_layout_get_size(layout.get(), nullptr, &height);
    return static_cast<double>(height) / PANGO_SCALE;
}

void PdfPages::rule(double x1, double y1, double x2, double y2, const Ink& ink, double line) {
    cairo_set_source_rgb(cairo_.get(), ink.red, ink.green, ink.blue);
    cairo_set_line_width(cairo_.get(), line);
    cairo_move_to(cairo_.get(), x1, y1);
    cairo_line_to(cairo_.get(), x2, y2);
    cairo_stroke(cairo_.get());
}

void PdfPages::frame(double x, double y, double width, double height, const Ink& ink, double line) {
    cairo_set_source_rgb(cairo_.get(), ink.red, ink.green, ink.blue);
    cairo_set_line_width(cairo_.get(), line);
    cairo_rectangle(cairo_.get(), x, y, width, height);
    cairo_stroke(cairo_.get());
}

void PdfPages::fill(double x, double y, double width, double height, const Ink& ink) {
    cairo_set_source_rgb(cairo_.get(), ink.red, ink.green, ink.blue);
    cairo_rectangle(cairo_.get(), x, y, width, height);
    cairo_fill(cairo_.get());
}

double PdfPages::picture(const std::string& png, double x, double y, double width) {
    Source source{&png};
    const std::unique_ptr<cairo_surface_t, Closer> image{cairo_image_surface_create_from_png_stream(take, &source)};
    if (cairo_surface_status(image.get()) != CAIRO_STATUS_SUCCESS) {
        throw std::runtime_error(fmt::format("a picture of the report cannot be read: {}",
                                             cairo_status_to_string(cairo_surface_status(image.get()))));
    }
    const double scale = width / cairo_image_surface_get_width(image.get());
    const double height = scale * cairo_image_surface_get_height(image.get());
    cairo_save(cairo_.get());
    cairo_translate(cairo_.get(), x, y);
    cairo_scale(cairo_.get(), scale, scale);
    cairo_set_source_surface(cairo_.get(), image.get(), 0, 0);
    cairo_paint(cairo_.get());
    cairo_restore(cairo_.get());
    return height;
}

double PdfPages::drawing(const std::string& svg, int svg_width, int svg_height, double x, double y, double width) {
    check_memory(surface_.get()); // else librsvg complains on the standard error output
    GError* fault = nullptr;
    RsvgHandle* handle =
        rsvg_handle_new_from_data(reinterpret_cast<const guint8*>(svg.data()), static_cast<gsize>(svg.size()), &fault);
    const RsvgRectangle place{x, y, width, width * svg_height / svg_width};
    const bool done = handle != nullptr && rsvg_handle_render_document(handle, cairo_.get(), &place, &fault) != FALSE;
    std::string why = fault != nullptr ? fault->message : "";
    g_clear_error(&fault);
    if (handle != nullptr) {
        g_object_unref(handle);
    }
    check_memory(surface_.get());
    if (!done) {
        throw std::runtime_error("a diagram of the report cannot be drawn: " + why);
    }
    return place.height;
}

void PdfPages::end_page() {
    const Type type{8, false, kGraphite};
    const double y = paper_.y - kMargin - 8;
    set(foot_, type, left(), y, width() - 70);
    const std::string number = pages_ > 0 ? fmt::format("{} of {}", page_, pages_) : fmt::format("{}", page_);
    const auto layout = laid(number, type, 70);
    pango_layout_set_alignment(layout.get(), PANGO_ALIGN_RIGHT);
    cairo_move_to(cairo_.get(), left() + width() - 70, y);
    pango_cairo_show_layout(cairo_.get(), layout.get());
    cairo_show_page(cairo_.get());
}

std::string PdfPages::finish() {
    end_page();
    cairo_.reset();
    cairo_surface_finish(surface_.get());
    const cairo_status_t status = cairo_surface_status(surface_.get());
    check_memory(surface_.get());
    if (status != CAIRO_STATUS_SUCCESS) {
        throw std::runtime_error(fmt::format("the PDF could not be made: {}", cairo_status_to_string(status)));
    }
    return std::move(bytes_);
}

} // namespace evenclose
