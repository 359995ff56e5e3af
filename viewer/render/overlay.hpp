// viewer/render/overlay.hpp: words and flat shapes over a picture that no window drew: a map's scale, names, forces. Set in
// the desktop's fonts by Pango, drawn by Cairo.
//
// Lengths are pixels, y downward from the top left corner; what lies outside the picture is left out.
// Threads: any, each object by itself.
#pragma once

#include "viewer/render/frame.hpp"

#include <memory>
#include <string>

namespace evenclose {

struct PictureBox {
    double left = 0, top = 0, width = 0, height = 0;
};

class Overlay {
public:
    /// Laid over `image` when it ends.   Needs: an image with its bytes. Faults: std::runtime_error, if there is no memory.
    explicit Overlay(Image& image);
    ~Overlay();
    Overlay(const Overlay&) = delete;
    Overlay& operator=(const Overlay&) = delete;

    void fill(double left, double top, double width, double height, const Colour& colour);
    void outline(double left, double top, double width, double height, double line, const Colour& colour);
    void line(double x1, double y1, double x2, double y2, double width, const Colour& colour);
    void dot(double x, double y, double radius, const Colour& colour);

    /// One line from its top left corner; `size` of the letters. What is wider than `room` ends in dots; 0: any room. A
    /// letter that no font has is drawn as a box.
    void words(double left, double top, double size, const std::string& words, const Colour& colour,
               bool strong = false, double room = 0);
    [[nodiscard]] double width_of(const std::string& words, double size, bool strong = false) const;
    [[nodiscard]] double height_of(double size) const; // of a line, whatever is in it

private:
    struct Inner;
    Image& image_;
    std::unique_ptr<Inner> inner_;
};

} // namespace evenclose
