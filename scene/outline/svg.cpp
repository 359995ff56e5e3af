#include "scene/outline/svg.hpp"

#include "scene/outline/flatten.hpp"
#include "scene/outline/plane_map.hpp"
#include "scene/outline/svg_numbers.hpp"
#include "scene/outline/svg_path.hpp"

#include <fmt/format.h>
#include <pugixml.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

namespace evenclose {
namespace {

// Drawing programs nest some ten groups; a file made to hurt must not end the stack.
constexpr int kDeepest = 200;

/// Lines of places that are asked for in the order of the text: each is counted from the one before.
class Lines {
public:
    explicit Lines(std::string_view text) : text_(text) {}
    std::size_t at(std::ptrdiff_t offset) {
        const auto wanted =
            static_cast<std::size_t>(std::clamp<std::ptrdiff_t>(offset, 0, static_cast<std::ptrdiff_t>(text_.size())));
        if (wanted < offset_) {
            offset_ = 0;
            line_ = 1;
        }
        line_ += static_cast<std::size_t>(std::count(text_.begin() + static_cast<std::ptrdiff_t>(offset_),
                                                     text_.begin() + static_cast<std::ptrdiff_t>(wanted), '\n'));
        offset_ = wanted;
        return line_;
    }

private:
    std::string_view text_;
    std::size_t offset_ = 0, line_ = 1;
};

/// "svg:path" is a path too.
std::string_view plain_name(const pugi::xml_node& node) {
    const std::string_view name = node.name();
    return name.starts_with("svg:") ? name.substr(4) : name;
}

/// In user units (px). Faults: SvgMistake: no number, an unknown unit.
double length_of(std::string_view written, std::string_view* unit_read = nullptr) {
    SvgNumbers numbers(written);
    const double value = numbers.number();
    const std::string_view unit = numbers.word();
    if (unit_read != nullptr) {
        *unit_read = unit;
    }
    struct Row {
        const char* unit;
        double px;
    };
    for (const Row& row : {Row{"", 1}, Row{"px", 1}, Row{"mm", 96 / kMmPerInch}, Row{"cm", 960 / kMmPerInch},
                           Row{"in", 96}, Row{"pt", 96.0 / 72}, Row{"pc", 16}, Row{"Q", 24 / kMmPerInch}}) {
        if (unit == row.unit) {
            return value * row.px;
        }
    }
    throw SvgMistake{fmt::format("the unit \"{}\"; read are px, mm, cm, in, pt and pc", unit)};
}

PlaneMap transform_of(std::string_view written) {
    PlaneMap all;
    SvgNumbers numbers(written);
    while (!numbers.at_end(true)) {
        const std::string_view name = numbers.word();
        numbers.at_end();
        if (name.empty() || numbers.take() != '(') {
            throw SvgMistake{"a transform that is none"};
        }
        std::array<double, 6> value{};
        std::size_t count = 0;
        while (!numbers.at_end() && numbers.peek() != ')') {
            if (count == value.size()) {
                throw SvgMistake{"a transform of more than six numbers"};
            }
            value[count++] = numbers.number();
        }
        if (numbers.take() != ')') {
            throw SvgMistake{"a transform without its \")\""};
        }
        constexpr double kDegree = std::numbers::pi / 180;
        if (name == "matrix" && count == 6) {
            all = all * PlaneMap{{value[0], value[1]}, {value[2], value[3]}, {value[4], value[5]}};
        } else if (name == "translate" && (count == 1 || count == 2)) {
            all = all * PlaneMap{{1, 0}, {0, 1}, {value[0], value[1]}};
        } else if (name == "scale" && (count == 1 || count == 2)) {
            all = all * PlaneMap{{value[0], 0}, {0, count == 2 ? value[1] : value[0]}, {0, 0}};
        } else if (name == "rotate" && (count == 1 || count == 3)) {
            const double c = std::cos(value[0] * kDegree), s = std::sin(value[0] * kDegree);
            const Vec2 about{value[1], value[2]};
            PlaneMap turn{{c, s}, {-s, c}, {0, 0}};
            turn.shift = about - turn.turn(about);
            all = all * turn;
        } else if (name == "skewX" && count == 1) {
            all = all * PlaneMap{{1, 0}, {std::tan(value[0] * kDegree), 1}, {0, 0}};
        } else if (name == "skewY" && count == 1) {
            all = all * PlaneMap{{1, std::tan(value[0] * kDegree)}, {0, 1}, {0, 0}};
        } else {
            throw SvgMistake{fmt::format("no transform: \"{}\" with {} numbers", name, count)};
        }
    }
    return all;
}

struct ViewBox {
    Vec2 low{0.0}, size{0.0};
};
std::optional<ViewBox> view_box(const pugi::xml_node& root) {
    const pugi::xml_attribute written = root.attribute("viewBox");
    if (!written) {
        return {};
    }
    SvgNumbers numbers(written.value());
    ViewBox box;
    box.low.x = numbers.number();
    box.low.y = numbers.number();
    box.size.x = numbers.number();
    box.size.y = numbers.number();
    if (!(box.size.x > 0 && box.size.y > 0)) {
        throw SvgMistake{"a viewBox without an extent"};
    }
    return box;
}

/// The page's height in user units; 0 if it is not said.
double page_height(const pugi::xml_node& root) {
    if (const auto box = view_box(root)) {
        return box->low.y + box->size.y;
    }
    const std::string_view written = root.attribute("height").value();
    return written.empty() || written.ends_with('%') ? 0 : length_of(written);
}

bool hidden(const pugi::xml_node& node) {
    std::string style = node.attribute("style").value();
    std::erase_if(style, [](char c) { return static_cast<unsigned char>(c) <= ' '; });
    return node.attribute("display").value() == std::string_view("none") ||
           style.find("display:none") != std::string::npos;
}

struct Fault {
    std::string problem, allowed;
};

class Reader {
public:
    Reader(std::string_view text, Flattening flat) : lines_(text), flat_(flat) {}

    Drawing read(const pugi::xml_node& root) {
        // Y up, from the page's foot.
        double height = 0;
        at(root, [&] { height = page_height(root); });
        const auto box = view_box(root);
        walk(root, {{1, 0}, {0, -1}, {box ? -box->low.x : 0, height}}, 0);
        return std::move(drawing_);
    }

private:
    /// Tells the line of what goes wrong in it.
    template <class Do> void at(const pugi::xml_node& node, Do&& act) {
        try {
            act();
        } catch (const SvgMistake& mistake) {
            throw Fault{
                fmt::format("line {}: <{}>: {}", lines_.at(node.offset_debug()), plain_name(node), mistake.what),
                "save it anew, as plain SVG"};
        }
    }

    void walk(const pugi::xml_node& parent, const PlaneMap& map, int depth) {
        if (depth > kDeepest) {
            throw Fault{
                fmt::format("line {}: groups nested more than {} deep", lines_.at(parent.offset_debug()), kDeepest),
                "ungroup the outline"};
        }
        for (const pugi::xml_node& node : parent.children()) {
            if (node.type() != pugi::node_element || hidden(node)) {
                continue;
            }
            const std::string_view name = plain_name(node);
            PlaneMap here;
            at(node, [&] { here = map * transform_of(node.attribute("transform").value()); });
            if (name == "g" || name == "a" || name == "switch") {
                walk(node, here, depth + 1);
            } else if (name == "text" || name == "image" || name == "use" || name == "svg") {
                ++drawing_.left_out[std::string(name)];
            } else {
                at(node, [&] { shape(node, name, here); });
            }
        }
    }

    void add(const pugi::xml_node& node, PlanLine line) {
        line.line = lines_.at(node.offset_debug());
        places_ += line.places.size();
        if (places_ > kMostPlaces) {
            throw SvgMistake{fmt::format("more than {} corners, arcs cut into chords", kMostPlaces)};
        }
        drawing_.lines.push_back(std::move(line));
    }

    void shape(const pugi::xml_node& node, std::string_view name, const PlaneMap& map) {
        const auto length = [&](const char* key) {
            const std::string_view written = node.attribute(key).value();
            return written.empty() ? 0.0 : length_of(written);
        };
        if (name == "path") {
            for (PlanLine& line : read_svg_path(node.attribute("d").value(), map, flat_)) {
                add(node, std::move(line));
            }
        } else if (name == "circle" || name == "ellipse") {
            const bool round = name == "circle";
            const double rx = length(round ? "r" : "rx"), ry = length(round ? "r" : "ry");
            if (rx > 0 && ry > 0) {
                const Vec2 centre = map.apply({length("cx"), length("cy")});
                const Vec2 u = map.turn({rx, 0}), v = map.turn({0, ry});
                PlanLine line{{centre + u}, true, 0};
                add_arc(line.places, centre, u, v, 0, 2 * std::numbers::pi, flat_);
                line.places.pop_back();
                add(node, std::move(line));
            }
        } else if (name == "rect") {
            rectangle(node, {length("x"), length("y")}, {length("width"), length("height")},
                      {length("rx"), length("ry")}, map);
        } else if (name == "line") {
            add(node, {{map.apply({length("x1"), length("y1")}), map.apply({length("x2"), length("y2")})}, false, 0});
        } else if (name == "polyline" || name == "polygon") {
            PlanLine line{{}, name == "polygon", 0};
            SvgNumbers numbers(node.attribute("points").value());
            while (!numbers.at_end()) {
                const double x = numbers.number();
                line.places.push_back(map.apply({x, numbers.number()}));
            }
            if (line.places.size() > 1) {
                add(node, std::move(line));
            }
        }
    }

    void rectangle(const pugi::xml_node& node, Vec2 low, Vec2 size, Vec2 radius, const PlaneMap& map) {
        if (!(size.x > 0 && size.y > 0)) {
            return;
        }
        // One radius alone holds for both.
        radius.x = node.attribute("rx") ? radius.x : radius.y;
        radius.y = node.attribute("ry") ? radius.y : radius.x;
        radius = glm::clamp(radius, Vec2{0.0}, 0.5 * size);
        PlanLine line{{}, true, 0};
        constexpr double kQuarter = 0.5 * std::numbers::pi;
        const Vec2 inner = size - 2.0 * radius;
        const std::array<Vec2, 4> corners{low + radius, low + radius + Vec2{inner.x, 0}, low + radius + inner,
                                          low + radius + Vec2{0, inner.y}};
        for (int i = 0; i < 4; ++i) {
            const double from = kQuarter * (i + 2);
            const Vec2 centre = map.apply(corners[static_cast<std::size_t>(i)]);
            const Vec2 u = map.turn({radius.x, 0}), v = map.turn({0, radius.y});
            line.places.push_back(centre + std::cos(from) * u + std::sin(from) * v);
            if (radius.x > 0 && radius.y > 0) {
                add_arc(line.places, centre, u, v, from, from + kQuarter, flat_);
            }
        }
        add(node, std::move(line));
    }

    Lines lines_;
    Flattening flat_;
    Drawing drawing_;
    std::size_t places_ = 0;
};

pugi::xml_node root_of(const pugi::xml_document& document) {
    const pugi::xml_node root = document.document_element();
    return plain_name(root) == "svg" ? root : pugi::xml_node{};
}

} // namespace

bool looks_like_svg(std::string_view text) { return text.substr(0, 4096).find("<svg") != text.npos; }

SvgUnit unit_of_svg(std::string_view text) {
    SvgUnit unit;
    unit.name = "1/96 in";
    pugi::xml_document document;
    document.load_buffer(text.data(), text.size());
    const pugi::xml_node root = root_of(document);
    const std::string_view width = root.attribute("width").value();
    if (width.empty() || width.ends_with('%')) {
        return unit;
    }
    try {
        std::string_view written;
        const double px = length_of(width, &written);
        const auto box = view_box(root);
        const bool absolute = !written.empty() && written != "px";
        if (!(px > 0)) {
            return unit;
        }
        double scale = 1;
        if (box) {
            scale = px / box->size.x;
            // Fitted into the page as a whole: the tighter way counts.
            const std::string_view height = root.attribute("height").value();
            if (!height.empty() && !height.ends_with('%') && length_of(height) > 0) {
                scale = std::min(scale, length_of(height) / box->size.y);
            }
        }
        unit.mm = scale * kMmPerInch / 96;
        unit.stated = absolute;
        unit.name = absolute ? fmt::format("the page is {} wide", width.substr(0, 24)) : unit.name;
    } catch (const SvgMistake&) {
        // told by read_svg, where it is the viewBox; a width that is none counts nothing
    }
    return unit;
}

DrawingResult read_svg(std::string_view text, Flattening flat) {
    if (text.starts_with("\x1F\x8B")) {
        return DrawingFault{"is a compressed SVG", "save it as plain SVG"};
    }
    pugi::xml_document document;
    const pugi::xml_parse_result parsed = document.load_buffer(text.data(), text.size());
    if (!parsed) {
        return DrawingFault{
            fmt::format("line {}: is no sound XML: {}", Lines(text).at(parsed.offset), parsed.description()),
            "save it anew, as plain SVG"};
    }
    const pugi::xml_node root = root_of(document);
    if (!root) {
        return DrawingFault{"is no SVG: its first element is no <svg>", "save the outline as plain SVG"};
    }
    try {
        return Reader(text, flat).read(root);
    } catch (const Fault& fault) {
        return DrawingFault{fault.problem, fault.allowed};
    }
}

} // namespace evenclose
