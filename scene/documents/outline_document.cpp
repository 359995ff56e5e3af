#include "scene/documents/outline_document.hpp"

#include "scene/documents/named_file.hpp"
#include "scene/documents/source_file.hpp"
#include "scene/mesh/unit_guess.hpp"
#include "scene/outline/dxf.hpp"
#include "scene/outline/outermost_line.hpp"
#include "scene/outline/svg.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace evenclose {
namespace {

// A square centimetre is no deck; corners in line, or with a unit mistaken, enclose less.
constexpr double kLeastDeck_mm2 = 100;
// Corners keep so near to arcs and curves: a tenth of what a printed layer is thick.
constexpr double kDeviation_mm = 0.01;
// CAD programs round what they write; a gap that somebody left open is wider.
constexpr double kMeet_mm = 0.05;

struct Extent {
    Vec2 low{1e300}, high{-1e300};
    explicit Extent(const std::vector<Vec2>& places) {
        for (const Vec2& at : places) {
            low = glm::min(low, at);
            high = glm::max(high, at);
        }
    }
    [[nodiscard]] std::string words() const {
        return fmt::format("X {:.6g} to {:.6g}, Y {:.6g} to {:.6g} mm", low.x + 0.0, high.x + 0.0, low.y + 0.0,
                           high.y + 0.0);
    }
};

double area_mm2(const std::vector<Vec2>& outline) {
    double doubled = 0;
    for (std::size_t i = 0, j = outline.size() - 1; i < outline.size(); j = i++) {
        doubled += outline[j].x * outline[i].y - outline[i].x * outline[j].y;
    }
    return 0.5 * std::abs(doubled); // NaN stays NaN: its fault is told already
}

/// What one unit of the file is, and whether somebody should look at it.
struct OutlineUnit {
    double mm = 1;
    bool certain = true;
    std::string note; // "inch (guessed: ...)"
};

DrawingResult read_drawing(std::string_view text, bool svg, double mm) {
    const Flattening flat{kDeviation_mm / mm};
    return svg ? read_svg(text, flat) : read_dxf(text, flat);
}

OutlineUnit guessed(const Drawing& drawing) {
    Vec2 low{1e300}, high{-1e300};
    for (const PlanLine& line : drawing.lines) {
        const Extent extent(line.places);
        low = glm::min(low, extent.low);
        high = glm::max(high, extent.high);
    }
    if (drawing.lines.empty()) {
        return {};
    }
    UnitGuess guess = guess_unit({high - low, 0});
    constexpr std::string_view kNoHeight = " x 0 mm"; // it has none
    if (const std::size_t at = guess.note.find(kNoHeight); at != std::string::npos) {
        guess.note.replace(at, kNoHeight.size(), " mm");
    }
    return {mm_per(guess.unit), false, guess.note};
}

class OutlineFile {
public:
    OutlineFile(DocumentSource& source, ObjectCursor object) : source_(source), object_(std::move(object)) {}

    std::vector<Vec2> read(std::string& written) {
        const std::string file = written = object_.text("file");
        const std::optional<std::string> unit = object_.unit("unit");
        const Vec2 offset = object_.vec2_mm("offset", {"x", "y"}, kAnyLength, 0.0);
        const double turn = object_.angle_rad("turn", 0.0);
        if (file.empty() || !named_file_is_there(source_, object_, "file", file)) {
            return {};
        }
        const std::variant<std::string, DocumentFault> text = read_source_file(source_.resolve(file));
        if (const auto* fault = std::get_if<DocumentFault>(&text)) {
            object_.refuse("file", fault->problem, fault->allowed);
            return {};
        }
        std::vector<Vec2> outline = from_text(std::get<std::string>(text), file, unit);
        const double c = std::cos(turn), s = std::sin(turn);
        for (Vec2& at : outline) {
            at = Vec2{c * at.x - s * at.y, s * at.x + c * at.y} + offset;
        }
        return outline;
    }

private:
    void note(const std::string& file, const std::string& text) {
        source_.note(fmt::format("{}: \"{}\" {}", object_.place(), shown(file), text));
    }

    std::vector<Vec2> refused(const DrawingFault& fault) {
        object_.refuse("file", "cannot be used: " + fault.problem, fault.allowed);
        return {};
    }

    OutlineUnit unit_of(std::string_view text, bool svg, const std::string& file,
                        const std::optional<std::string>& stated) {
        OutlineUnit says;
        bool file_says = true;
        if (svg) {
            const SvgUnit unit = unit_of_svg(text);
            says = {unit.mm, unit.stated, unit.name};
            file_says = unit.stated;
        } else if (const auto unit = unit_of_dxf(text)) {
            says = {unit->mm, true, unit->name};
        } else {
            file_says = false;
            says.certain = false;
        }
        if (!stated) {
            return says;
        }
        const double mm = mm_per(*read_length_unit(*stated));
        if (file_says && std::abs(mm - says.mm) > 1e-6 * mm) {
            note(file, fmt::format("is taken as {} as stated; the file itself says {} ({:.6g} mm a unit)", *stated,
                                   says.note, says.mm));
        }
        return {mm, true, *stated};
    }

    std::vector<Vec2> from_text(const std::string& text, const std::string& file,
                                const std::optional<std::string>& stated) {
        const bool svg = looks_like_svg(text) || text.starts_with("\x1F\x8B");
        if (!svg && !looks_like_dxf(text)) {
            object_.refuse("file",
                           text.starts_with("AC10") ? "is a DWG drawing"
                                                    : "cannot be used: it begins neither as a DXF nor as an SVG",
                           "save the outline as an ASCII DXF or as plain SVG");
            return {};
        }
        OutlineUnit unit = unit_of(text, svg, file, stated);
        DrawingResult read = read_drawing(text, svg, unit.mm);
        if (const auto* drawing = std::get_if<Drawing>(&read); drawing != nullptr && !unit.certain && !svg) {
            unit = guessed(*drawing);
            read = read_drawing(text, svg, unit.mm); // arcs as fine as that unit asks
        }
        if (const auto* fault = std::get_if<DrawingFault>(&read)) {
            return refused(*fault);
        }
        const auto& drawing = std::get<Drawing>(read);
        auto found = outermost_line(drawing, kMeet_mm / unit.mm);
        if (const auto* fault = std::get_if<DrawingFault>(&found)) {
            return refused(*fault);
        }
        auto& line = std::get<OutermostLine>(found);
        for (Vec2& at : line.places) {
            at *= unit.mm;
        }
        const Vec2 size = Extent(line.places).high - Extent(line.places).low;
        if (!(area_mm2(line.places) >= kLeastDeck_mm2) || std::max(size.x, size.y) > kLongest_mm) {
            return refused({fmt::format("its outline is {:.4g} x {:.4g} mm", size.x, size.y),
                            "is its unit right? state it with \"unit\""});
        }
        if (!unit.certain) {
            note(file, fmt::format(R"(is taken as {}; state it with "unit")", unit.note));
        }
        if (svg) {
            note(file, fmt::format("is {:.5g} x {:.5g} mm; its Y is turned up, 0, 0 is the page's lower left corner",
                                   size.x, size.y));
        }
        if (line.inside + line.open > 0) {
            note(file, fmt::format("gives the outline from its line {}; {} closed lines inside it and {} open ones "
                                   "are left out",
                                   line.line, line.inside, line.open));
        }
        return std::move(line.places);
    }

    DocumentSource& source_;
    ObjectCursor object_;
};

} // namespace

std::vector<Vec2> read_deck_outline(DocumentSource& source, ObjectCursor& document, std::string& file) {
    const auto kind = document.kind_of("deck_outline");
    if (kind == SourceValue::Kind::object) {
        return OutlineFile(source, document.object("deck_outline", "outline")).read(file);
    }
    if (kind == SourceValue::Kind::text) {
        document.refuse("deck_outline", "is no outline", R"(give { "file": "deck.dxf" }, or corners [[x, y], ...])");
        return {};
    }
    std::vector<Vec2> outline = document.places_mm("deck_outline", 3);
    if (!outline.empty() && area_mm2(outline) < kLeastDeck_mm2) {
        document.refuse("deck_outline", "encloses no area", "give the corners in their order round the deck");
    }
    return outline;
}

void outline_meets_halves(DocumentSource& source, ObjectCursor& document, const Mold& mold) {
    if (mold.deck_outline_mm.empty()) {
        return;
    }
    const Extent outline(mold.deck_outline_mm);
    const Box lower = bounds_of(*mold.lower.mesh), upper = bounds_of(*mold.upper.mesh);
    const Vec2 low = glm::max(Vec2{lower.low_mm}, Vec2{upper.low_mm});
    const Vec2 high = glm::min(Vec2{lower.high_mm}, Vec2{upper.high_mm});
    if (low.x >= high.x || low.y >= high.y) {
        return; // the halves do not stand above each other: told by the checks
    }
    const std::string theirs = Extent({low, high}).words();
    if (outline.low.x >= high.x || outline.low.y >= high.y || outline.high.x <= low.x || outline.high.y <= low.y) {
        document.refuse("deck_outline", fmt::format("lies beside the halves: {}", outline.words()),
                        fmt::format("both halves share {}; a drawing is moved by its \"offset\"", theirs));
        return;
    }
    const double beyond =
        std::max({low.x - outline.low.x, low.y - outline.low.y, outline.high.x - high.x, outline.high.y - high.y});
    constexpr double kWorthTelling_mm = 0.5;
    if (beyond > kWorthTelling_mm) {
        source.note(
            fmt::format("deck_outline: reaches up to {:.4g} mm beyond what both halves share ({})", beyond, theirs));
    }
}

} // namespace evenclose
