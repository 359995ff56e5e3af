#include "scene/outline/dxf.hpp"

#include "scene/mesh/formats/text_scan.hpp"
#include "scene/outline/flatten.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

namespace evenclose {
namespace {

struct Fault {
    std::string problem, allowed;
};

// An entity of more groups has more corners than are read.
constexpr std::size_t kMostGroups = 4 * kMostPlaces;
// Names of entities are told in a message, a few of them.
constexpr std::size_t kMostKinds = 12;

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && static_cast<unsigned char>(text.front()) <= ' ') {
        text.remove_prefix(1);
    }
    while (!text.empty() && static_cast<unsigned char>(text.back()) <= ' ') {
        text.remove_suffix(1);
    }
    return text;
}

struct Group {
    int code = 0;
    std::string_view value;
    std::size_t line = 0; // of the value
};

/// One pair after the other.
class Groups {
public:
    explicit Groups(std::string_view text) : text_(text) {
        if (text_.starts_with("\xEF\xBB\xBF")) {
            text_.remove_prefix(3);
        }
    }
    /// Nothing at the end of the text. Faults: a code that is no number, a code without a value.
    std::optional<Group> next() {
        std::string_view code;
        do {
            if (text_.empty()) {
                return {};
            }
            code = trimmed(line());
        } while (code.empty() && trimmed(text_).empty()); // blank lines after the end
        const std::optional<double> number = number_in(code);
        if (!number || std::abs(*number) > 9999 || *number != std::floor(*number)) {
            throw Fault{fmt::format("line {}: {} where a group code should be", line_, shortened(code)),
                        "an ASCII DXF is pairs of lines, a whole number and its value"};
        }
        if (text_.empty()) {
            throw Fault{fmt::format("is cut short: line {} has a group code without its value", line_), "save it anew"};
        }
        Group group;
        group.code = static_cast<int>(*number);
        group.value = trimmed(line());
        group.line = line_;
        return group;
    }
    [[nodiscard]] std::size_t lines() const { return line_; }

private:
    std::string_view line() {
        const std::size_t end = text_.find_first_of("\r\n");
        const std::string_view result = text_.substr(0, end);
        const bool both = end != text_.npos && text_.substr(end, 2) == "\r\n";
        text_.remove_prefix(end == text_.npos ? text_.size() : end + (both ? 2 : 1));
        ++line_;
        return result;
    }
    std::string_view text_;
    std::size_t line_ = 0;
};

double number_of(const Group& group) {
    const std::optional<double> value = number_in(group.value);
    if (!value || !std::isfinite(*value)) {
        throw Fault{fmt::format("line {}: {} is no finite number", group.line, shortened(group.value)), "save it anew"};
    }
    if (std::abs(*value) > kFarthest) {
        throw Fault{fmt::format("line {}: {} is farther out than any deck", group.line, shortened(group.value)),
                    "draw near the origin"};
    }
    return *value;
}

/// What stands between one 0 group and the next.
struct Entity {
    std::string_view name;
    std::size_t line = 0;
    std::vector<Group> groups;

    [[nodiscard]] const Group* find(int code) const {
        for (const Group& group : groups) {
            if (group.code == code) {
                return &group;
            }
        }
        return nullptr;
    }
    [[nodiscard]] double number(int code, std::optional<double> otherwise = {}) const {
        if (const Group* group = find(code)) {
            return number_of(*group);
        }
        if (!otherwise) {
            throw Fault{fmt::format("line {}: a {} without its group {}", line, name, code), "save it anew"};
        }
        return *otherwise;
    }
    [[nodiscard]] Vec2 place(int code, std::optional<double> otherwise = {}) const {
        return {number(code, otherwise), number(code + 10, otherwise)};
    }
    [[nodiscard]] bool flag(int code, int bit) const { return (static_cast<long long>(number(code, 0.0)) & bit) != 0; }
    /// -1 where the entity is drawn on the back of the plan, so that its own x runs to -X (group 230, "extrusion").
    [[nodiscard]] double facing() const {
        const Vec2 sideways = place(210, 0.0);
        const double up = number(230, 1.0);
        if (std::max(std::abs(sideways.x), std::abs(sideways.y)) > 1e-6 * std::abs(up) || up == 0) {
            throw Fault{fmt::format("line {}: a {} that is tilted out of the plan", line, name),
                        "draw the outline in the XY plane"};
        }
        return up < 0 ? -1 : 1;
    }
};

struct Corner {
    Vec2 at{0.0};
    double bulge = 0;
};

class Reader {
public:
    Reader(std::string_view text, Flattening flat) : groups_(text), flat_(flat) {}

    Drawing read() {
        bool in_entities = false, ended = false, after_section = false;
        Entity entity;
        while (const std::optional<Group> group = groups_.next()) {
            if (group->code == 0) {
                if (in_entities) {
                    take(entity);
                }
                entity = {group->value, group->line, {}};
                after_section = group->value == "SECTION";
                in_entities = in_entities && group->value != "ENDSEC";
                if (group->value == "EOF") {
                    ended = true;
                    break;
                }
                continue;
            }
            if (after_section && group->code == 2) {
                in_entities = group->value == "ENTITIES";
                sections_ += 1;
                after_section = false;
                entity = {};
                continue;
            }
            if (in_entities) {
                if (entity.groups.size() >= kMostGroups) {
                    throw Fault{
                        fmt::format("line {}: a {} of more than {} groups", entity.line, entity.name, kMostGroups),
                        "draw it simpler"};
                }
                entity.groups.push_back(*group);
            }
        }
        if (sections_ == 0) {
            throw Fault{"is no DXF: it has no section", "save the outline as an ASCII DXF"};
        }
        if (!ended) {
            throw Fault{fmt::format("is cut short: it ends at line {} without EOF", groups_.lines()), "save it anew"};
        }
        return std::move(drawing_);
    }

private:
    void take(const Entity& entity) {
        const std::string_view name = entity.name;
        if (polyline_) {
            if (name == "VERTEX") {
                vertex(entity);
                return;
            }
            end_polyline();
            if (name == "SEQEND") {
                return;
            }
        }
        if (name.empty() || name == "SECTION" || entity.flag(67, 1) || entity.flag(60, 1)) {
            return; // paper space, or invisible
        }
        if (name == "LINE") {
            begin(entity, entity.place(10));
            finish_at(entity.place(11));
        } else if (name == "LWPOLYLINE") {
            lightweight(entity);
        } else if (name == "POLYLINE") {
            polyline(entity);
        } else if (name == "CIRCLE" || name == "ARC") {
            round(entity);
        } else if (name == "ELLIPSE") {
            ellipse(entity);
        } else if (name == "SPLINE") {
            spline(entity);
        } else if (drawing_.left_out.size() < kMostKinds || drawing_.left_out.contains(std::string(name))) {
            const std::string quoted = shortened(name);
            ++drawing_.left_out[quoted.substr(1, quoted.size() - 2)];
        }
    }

    std::vector<Vec2>& begin(const Entity& entity, Vec2 at) {
        drawing_.lines.push_back({{at}, false, entity.line});
        return drawing_.lines.back().places;
    }
    void finish_at(Vec2 at) {
        drawing_.lines.back().places.push_back(at);
        finish();
    }
    void finish() {
        places_ += drawing_.lines.back().places.size();
        if (places_ > kMostPlaces) {
            throw Fault{fmt::format("line {}: more than {} corners, arcs cut into chords", drawing_.lines.back().line,
                                    kMostPlaces),
                        "leave the deck's outline in it alone"};
        }
    }

    void corners(const Entity& entity, const std::vector<Corner>& list, bool closed, double facing) {
        if (list.size() < 2) {
            return;
        }
        const auto turned = [&](Vec2 at) { return Vec2{facing * at.x, at.y}; };
        std::vector<Vec2>& into = begin(entity, turned(list.front().at));
        for (std::size_t i = 0; i + (closed ? 0 : 1) < list.size(); ++i) {
            add_bulge(into, turned(list[(i + 1) % list.size()].at), facing * list[i].bulge, flat_);
            if (into.size() > kMostPlaces) {
                break; // told by finish
            }
        }
        drawing_.lines.back().closed = closed;
        if (closed) {
            into.pop_back();
        }
        finish();
    }

    void lightweight(const Entity& entity) {
        std::vector<Corner> list;
        for (const Group& group : entity.groups) {
            if (group.code == 10) {
                list.push_back({{number_of(group), 0}, 0});
            } else if (!list.empty() && group.code == 20) {
                list.back().at.y = number_of(group);
            } else if (!list.empty() && group.code == 42) {
                list.back().bulge = number_of(group);
            }
        }
        if (const double promised = entity.number(90, static_cast<double>(list.size()));
            promised != static_cast<double>(list.size())) {
            throw Fault{fmt::format("line {}: a LWPOLYLINE that promises {:.0f} corners and holds {}", entity.line,
                                    promised, list.size()),
                        "save it anew"};
        }
        corners(entity, list, entity.flag(70, 1), entity.facing());
    }

    void polyline(const Entity& entity) {
        constexpr int kMeshes = 16 | 64;
        polyline_ = entity;
        vertices_.clear();
        is_mesh_ = entity.flag(70, kMeshes);
    }
    void vertex(const Entity& entity) {
        constexpr int kSplineFrame = 16;
        if (vertices_.size() > kMostPlaces) {
            throw Fault{fmt::format("line {}: more than {} corners", polyline_->line, kMostPlaces), "draw it simpler"};
        }
        if (!entity.flag(70, kSplineFrame)) {
            vertices_.push_back({entity.place(10), entity.number(42, 0.0)});
        }
    }
    void end_polyline() {
        const Entity entity = std::move(*polyline_);
        polyline_.reset();
        if (is_mesh_) {
            ++drawing_.left_out["POLYLINE mesh"];
        } else {
            corners(entity, vertices_, entity.flag(70, 1), entity.facing());
        }
    }

    void round(const Entity& entity) {
        const double facing = entity.facing();
        const Vec2 centre = entity.place(10);
        const double radius = entity.number(40);
        if (!(radius > 0)) {
            throw Fault{fmt::format("line {}: a {} with the radius {:.6g}", entity.line, entity.name, radius),
                        "a radius is above 0"};
        }
        constexpr double kDegree = std::numbers::pi / 180;
        const bool whole = entity.name == "CIRCLE";
        const double from = whole ? 0 : entity.number(50) * kDegree;
        sweep(entity, {facing * centre.x, centre.y}, {facing * radius, 0}, {0, radius}, from,
              whole ? from + 2 * std::numbers::pi : entity.number(51) * kDegree, whole);
    }
    void ellipse(const Entity& entity) {
        const Vec2 major = entity.place(11);
        const double ratio = entity.number(40) * entity.facing();
        const double from = entity.number(41, 0.0);
        const double to = entity.number(42, 2 * std::numbers::pi);
        if (major == Vec2{0.0} || ratio == 0 || std::abs(ratio) > 1 + 1e-9) {
            throw Fault{fmt::format("line {}: an ELLIPSE without an extent", entity.line), "save it anew"};
        }
        const bool whole = std::abs(std::abs(to - from) - 2 * std::numbers::pi) < 1e-9;
        sweep(entity, entity.place(10), major, ratio * Vec2{-major.y, major.x}, from, to, whole);
    }
    void sweep(const Entity& entity, Vec2 centre, Vec2 u, Vec2 v, double from, double to, bool whole) {
        // Counter-clockwise in the entity's own frame, once round at most.
        to = whole ? from + 2 * std::numbers::pi
                   : from + std::remainder(to - from - std::numbers::pi, 2 * std::numbers::pi) + std::numbers::pi;
        std::vector<Vec2>& into = begin(entity, centre + std::cos(from) * u + std::sin(from) * v);
        add_arc(into, centre, u, v, from, to, flat_);
        drawing_.lines.back().closed = whole;
        if (whole) {
            into.pop_back();
        }
        finish();
    }

    void spline(const Entity& entity) {
        std::vector<Vec2> control;
        std::vector<double> knots, weights;
        for (const Group& group : entity.groups) {
            switch (group.code) {
            case 10:
                control.emplace_back(number_of(group), 0);
                break;
            case 20:
                if (!control.empty()) {
                    control.back().y = number_of(group);
                }
                break;
            case 40:
                knots.push_back(number_of(group));
                break;
            case 41:
                weights.push_back(number_of(group));
                break;
            default:
                break;
            }
        }
        const double degree_read = entity.number(71, 3.0);
        constexpr double kHighest = 25;
        const auto degree = static_cast<std::size_t>(std::clamp(degree_read, 1.0, kHighest));
        bool sound = static_cast<double>(degree) == degree_read && control.size() > degree &&
                     knots.size() == control.size() + degree + 1 &&
                     (weights.empty() || weights.size() == control.size());
        for (std::size_t i = 1; i < knots.size(); ++i) {
            sound = sound && knots[i] >= knots[i - 1];
        }
        for (const double weight : weights) {
            sound = sound && weight > 0;
        }
        if (!sound) {
            throw Fault{fmt::format("line {}: a SPLINE of degree {:.0f} with {} control points and {} knots",
                                    entity.line, degree_read, control.size(), knots.size()),
                        "it needs as many knots as control points, degree and 1; or turn it into a polyline"};
        }
        weights.resize(control.size(), 1);
        std::vector<Vec2>* into = nullptr;
        for (std::size_t span = degree; span < control.size(); ++span) {
            if (!(knots[span + 1] > knots[span])) {
                continue;
            }
            const auto at = [&](double t) { return on_spline(control, weights, knots, degree, span, t); };
            if (into == nullptr) {
                into = &begin(entity, at(knots[span]));
            }
            add_curve(*into, at, knots[span], knots[span + 1], flat_);
            if (into->size() > kMostPlaces) {
                break;
            }
        }
        if (into != nullptr) {
            finish();
        }
    }
    /// C. de Boor's recursion in homogeneous coordinates (L. Piegl & W. Tiller, The NURBS Book, 1997, sec. 4.1).
    static Vec2 on_spline(const std::vector<Vec2>& control, const std::vector<double>& weights,
                          const std::vector<double>& knots, std::size_t degree, std::size_t span, double t) {
        std::array<Vec3, 26> point;
        for (std::size_t i = 0; i <= degree; ++i) {
            const std::size_t k = span - degree + i;
            point[i] = {weights[k] * control[k], weights[k]};
        }
        for (std::size_t level = 1; level <= degree; ++level) {
            for (std::size_t i = degree; i >= level; --i) {
                const double low = knots[span - degree + i], high = knots[span + i + 1 - level];
                const double share = high > low ? (t - low) / (high - low) : 0;
                point[i] = (1 - share) * point[i - 1] + share * point[i];
            }
        }
        return Vec2{point[degree]} / point[degree].z;
    }

    Groups groups_;
    Flattening flat_;
    Drawing drawing_;
    std::size_t sections_ = 0, places_ = 0;
    std::optional<Entity> polyline_;
    std::vector<Corner> vertices_;
    bool is_mesh_ = false;
};

} // namespace

bool looks_like_dxf(std::string_view text) {
    if (text.starts_with("AutoCAD Binary DXF")) {
        return true;
    }
    try {
        const std::optional<Group> first = Groups(text.substr(0, 4096)).next();
        return first && (first->code == 999 || (first->code == 0 && first->value == "SECTION"));
    } catch (const Fault&) {
        return false;
    }
}

std::optional<DxfUnit> unit_of_dxf(std::string_view text) {
    try {
        Groups groups(text);
        bool asked = false;
        while (const std::optional<Group> group = groups.next()) {
            if (group->code == 9) {
                asked = group->value == "$INSUNITS";
            } else if (asked && group->code == 70) {
                struct Row {
                    int code;
                    double mm;
                    const char* name;
                };
                for (const Row& row :
                     {Row{1, kMmPerInch, "in"}, Row{2, kMmPerFoot, "ft"}, Row{4, 1, "mm"}, Row{5, 10, "cm"},
                      Row{6, 1000, "m"}, Row{8, kMmPerInch * 1e-6, "microinch"}, Row{9, kMmPerInch * 1e-3, "mil"},
                      Row{10, 3 * kMmPerFoot, "yd"}, Row{13, 1e-3, "micron"}, Row{14, 100, "dm"}}) {
                    if (number_in(group->value) == static_cast<double>(row.code)) {
                        return DxfUnit{row.mm, row.name};
                    }
                }
                return {};
            } else if (group->code == 0 && group->value == "ENDSEC") {
                return {}; // the head is the first section
            }
        }
    } catch (const Fault&) {
        // told by read_dxf
    }
    return {};
}

DrawingResult read_dxf(std::string_view text, Flattening flat) {
    if (text.starts_with("AutoCAD Binary DXF")) {
        return DrawingFault{"is a binary DXF", "save it as ASCII (text)"};
    }
    try {
        return Reader(text, flat).read();
    } catch (const Fault& fault) {
        return DrawingFault{fault.problem, fault.allowed};
    }
}

} // namespace evenclose
