#include "scene/press/built_up.hpp"

#include <fmt/format.h>
#include <glm/common.hpp>

namespace evenclose {
namespace {

/// Laid in a row along an axis of the section (0: u, 1: v).
BuiltUpSection row(std::vector<BuiltUpPart> parts, int axis) {
    double whole = 0;
    for (const BuiltUpPart& part : parts) {
        whole += size_of(part.section)[axis];
    }
    double from = -0.5 * whole;
    for (BuiltUpPart& part : parts) {
        const double size = size_of(part.section)[axis];
        part.at_mm = Vec2{0.0};
        part.at_mm[axis] = from + 0.5 * size;
        from += size;
    }
    return {std::move(parts)};
}

} // namespace

Vec2 size_of(const Section& section) {
    struct {
        Vec2 operator()(const TimberSection& s) const { return {s.width_mm, s.depth_mm}; }
        Vec2 operator()(const AngleSection& s) const { return {s.width_mm, s.depth_mm}; }
        Vec2 operator()(const TubeSection& s) const { return {s.width_mm, s.depth_mm}; }
        Vec2 operator()(const PipeSection& s) const { return {s.outside_diameter_mm, s.outside_diameter_mm}; }
        Vec2 operator()(const PlateSection& s) const { return {s.width_mm, s.thickness_mm}; }
        Vec2 operator()(const MeshSection&) const { return Vec2{0.0}; }
        Vec2 operator()(const BuiltUpSection& s) const {
            Vec2 low{0.0};
            Vec2 high{0.0};
            for (const BuiltUpPart& part : s.parts) {
                const Vec2 half = 0.5 * size_of(part.section);
                low = glm::min(low, part.at_mm - half);
                high = glm::max(high, part.at_mm + half);
            }
            return high - low;
        }
    } size;
    return std::visit(size, section);
}

std::vector<BuiltUpPart> parts_of(const Section& section) {
    if (const auto* built_up = std::get_if<BuiltUpSection>(&section)) {
        return built_up->parts;
    }
    if (std::holds_alternative<MeshSection>(section)) {
        return {};
    }
    return {{section, Vec2{0.0}, {}}};
}

BuiltUpSection side_by_side(std::vector<BuiltUpPart> parts) { return row(std::move(parts), 0); }
BuiltUpSection stacked(std::vector<BuiltUpPart> parts) { return row(std::move(parts), 1); }

const std::string& material_of(const BuiltUpPart& part, const Member& member) {
    return part.material.empty() ? member.material : part.material;
}

std::string words_of(const Section& section) {
    struct {
        std::string operator()(const TimberSection& s) const {
            return fmt::format("{:.4g} x {:.4g} timber", s.width_mm, s.depth_mm);
        }
        std::string operator()(const AngleSection& s) const {
            return fmt::format("{:.4g} x {:.4g} x {:.4g} angle", s.width_mm, s.depth_mm, s.thickness_mm);
        }
        std::string operator()(const TubeSection& s) const {
            return fmt::format("{:.4g} x {:.4g} x {:.4g} tube", s.width_mm, s.depth_mm, s.wall_mm);
        }
        std::string operator()(const PipeSection& s) const {
            return 2 * s.wall_mm >= s.outside_diameter_mm
                       ? fmt::format("{:.4g} rod", s.outside_diameter_mm)
                       : fmt::format("{:.4g} x {:.4g} pipe", s.outside_diameter_mm, s.wall_mm);
        }
        std::string operator()(const PlateSection& s) const {
            return fmt::format("{:.4g} x {:.4g} plate", s.width_mm, s.thickness_mm);
        }
        std::string operator()(const MeshSection&) const { return "part"; }
        std::string operator()(const BuiltUpSection& s) const {
            const Vec2 size = size_of(s);
            return fmt::format("{:.4g} x {:.4g} of {} parts", size.x, size.y, s.parts.size());
        }
    } words;
    return std::visit(words, section);
}

} // namespace evenclose
