#include "checks/mesh/mesh_check.hpp"

#include "checks/phrase.hpp"
#include "scene/mesh/self_intersection.hpp"
#include "scene/mesh/unit_guess.hpp"

#include <fmt/format.h>
#include <glm/vector_relational.hpp>

#include <algorithm>
#include <set>

namespace evenclose {
namespace {

// Flat, doubled and needle-thin triangles: a share above which a repair of the mesh is due (common practice, no source).
constexpr double kFewFlawed = 0.01;
// A piece below this share of the largest one's extent is taken for a left-over (common practice, no source).
constexpr double kStray = 0.05;

std::string counted(std::size_t count, const char* one, const char* many) {
    return fmt::format("{} {}", count, count == 1 ? one : many);
}

class Judge {
public:
    Judge(const MeshMeasure& measure, const Pose& placement) : measure_(measure), placement_(placement) {}

    std::vector<Finding> take() {
        edges();
        shells();
        intersections();
        triangles();
        size();
        if (findings_.empty()) {
            sound();
        }
        return std::move(findings_);
    }

private:
    Finding& add(Verdict verdict, std::string title, std::string why, std::string remedy) {
        Finding finding;
        finding.check = "mesh";
        finding.verdict = verdict;
        finding.title = std::move(title);
        finding.why = std::move(why);
        finding.remedy = std::move(remedy);
        finding.bodies = {measure_.body};
        findings_.push_back(std::move(finding));
        return findings_.back();
    }
    void add_count(Verdict verdict, const Flaw& flaw, std::string title, std::string why, std::string remedy) {
        Finding& finding = add(verdict, std::move(title), std::move(why), std::move(remedy));
        finding.value = static_cast<double>(flaw.count);
        finding.limit = 0.0;
        finding.margin = -*finding.value;
        finding.at_mm = placement_.apply(flaw.first_at_mm);
        finding.travel = TravelInterval{{0}, {0}};
    }

    void edges() {
        const Soundness& s = measure_.sound;
        if (s.open_edges.count > 0) {
            add_count(Verdict::no_go, s.open_edges,
                      fmt::format("{} is not closed: {} at the rim of a hole", measure_.body,
                                  counted(s.open_edges.count, "edge lies", "edges lie")),
                      "Whether a place is inside cannot be told for sure; distances to what is there stay right.",
                      "Close the hole in the CAD program and export again; a printer would guess there, too.");
        }
        if (s.crowded_edges.count > 0) {
            add_count(
                Verdict::no_go, s.crowded_edges,
                fmt::format("{} has {} where more than two triangles meet", measure_.body,
                            counted(s.crowded_edges.count, "edge", "edges")),
                "Two parts touch along an edge, or a wall has no thickness; inside and outside are not clear there.",
                "Join or part the bodies in the CAD program and export again.");
        }
        if (s.turned_edges.count > 0) {
            add_count(Verdict::no_go, s.turned_edges,
                      fmt::format("{} has faces turned inside out: {} between a right and a flipped triangle",
                                  measure_.body, counted(s.turned_edges.count, "edge lies", "edges lie")),
                      "Inside and outside are mixed up; distances stay right.",
                      "Make the normals agree in the CAD program and export again.");
        }
    }

    void shells() {
        const std::vector<Shell>& shells = measure_.sound.shells;
        if (shells.empty()) {
            return;
        }
        // The largest in space, not the one of most triangles: a finely meshed bolt hole is not the part.
        const Shell& main = *std::max_element(shells.begin(), shells.end(),
                                              [](const Shell& a, const Shell& b) { return a.extent_mm < b.extent_mm; });
        const auto inverted = [&](const Shell& shell) {
            return shell.closed && measure_.sound.oriented() && shell.signed_volume_mm3 < 0 && !in_a_solid(shell);
        };
        if (inverted(main)) {
            Finding& finding =
                add(Verdict::no_go, fmt::format("{} is inside out", measure_.body),
                    "All its triangles face inward, as a mirrored export gives them.",
                    "Flip the normals, and see whether the part was mirrored: a mirrored half fits nowhere.");
            finding.at_mm = placement_.apply(main.at_mm);
        } else if (const auto first = std::find_if(shells.begin(), shells.end(), inverted); first != shells.end()) {
            const auto count = static_cast<std::size_t>(std::count_if(first, shells.end(), inverted));
            add_count(Verdict::no_go, {count, first->at_mm},
                      fmt::format("{} has {} inside out", measure_.body, counted(count, "piece", "pieces")),
                      "They face inward and lie in no other piece, so they are no cavities; distances stay right.",
                      "Flip the normals of these pieces in the CAD program and export again.");
        }
        const auto stray = [&](const Shell& shell) {
            return shell.extent_mm < kStray * main.extent_mm && !in_a_solid(shell);
        };
        if (const auto first = std::find_if(shells.begin(), shells.end(), stray); first != shells.end()) {
            const auto count = static_cast<std::size_t>(std::count_if(first, shells.end(), stray));
            add_count(Verdict::marginal, {count, first->at_mm},
                      fmt::format("{} comes with {} beside it, the first {} large", measure_.body,
                                  counted(count, "stray small piece", "stray small pieces"),
                                  length_mark(first->extent_mm)),
                      "They are checked like the rest and may foul where nothing is meant to be.",
                      "Delete them in the CAD program if they are left-overs.");
        }
    }

    /// A closed shell that faces inward within the box of one that faces outward is taken for a cavity of it.
    [[nodiscard]] bool in_a_solid(const Shell& shell) const {
        const std::vector<Shell>& shells = measure_.sound.shells;
        return shell.closed && shell.signed_volume_mm3 < 0 &&
               std::any_of(shells.begin(), shells.end(), [&](const Shell& around) {
                   return around.signed_volume_mm3 > -shell.signed_volume_mm3 &&
                          glm::all(glm::lessThanEqual(around.box.low_mm, shell.box.low_mm)) &&
                          glm::all(glm::greaterThanEqual(around.box.high_mm, shell.box.high_mm));
               });
    }

    void intersections() {
        if (measure_.self_intersections.count > 0) {
            add_count(Verdict::marginal, measure_.self_intersections,
                      fmt::format("{} runs through itself: {} of triangles cross", measure_.body,
                                  counted(measure_.self_intersections.count, "pair", "pairs")),
                      "Distances stay right; volume and mass may be off. Bodies set rim on face without being joined "
                      "are told here, too.",
                      "Unite the overlapping bodies in the CAD program and export again.");
        }
    }

    void triangles() {
        const Soundness& s = measure_.sound;
        const std::size_t flawed = s.flat_triangles.count + s.doubled_triangles.count + s.slivers.count;
        if (flawed > 0 && static_cast<double>(flawed) > kFewFlawed * static_cast<double>(measure_.triangles)) {
            const Flaw& first = s.flat_triangles.count > 0      ? s.flat_triangles
                                : s.doubled_triangles.count > 0 ? s.doubled_triangles
                                                                : s.slivers;
            add_count(Verdict::marginal, {flawed, first.first_at_mm},
                      fmt::format("{} has {} flawed triangles of {}: {} without area, {} doubled, {} needle-thin",
                                  measure_.body, flawed, measure_.triangles, s.flat_triangles.count,
                                  s.doubled_triangles.count, s.slivers.count),
                      "Nothing computed here is spoiled by them, but the export is poor.",
                      "Export again with a coarser or more even mesh.");
        }
    }

    void size() {
        const Vec3 size = measure_.sound.box.size_mm();
        const double largest = std::max({size.x, size.y, size.z});
        if (largest >= kLeastPlausible_mm && largest <= kMostPlausible_mm) {
            return;
        }
        Finding& finding = add(Verdict::no_go,
                               fmt::format("{} is {} x {} x {}: {} for a mold or a press part", measure_.body,
                                           length_mark(size.x), length_mark(size.y), length_mark(size.z),
                                           largest < kLeastPlausible_mm ? "too small" : "too large"),
                               fmt::format("Plausible is a largest side from {} to {}.",
                                           length_mark(kLeastPlausible_mm), length_mark(kMostPlausible_mm)),
                               "");
        finding.value = largest;
        finding.limit = largest < kLeastPlausible_mm ? kLeastPlausible_mm : kMostPlausible_mm;
        finding.margin = largest < kLeastPlausible_mm ? largest - kLeastPlausible_mm : kMostPlausible_mm - largest;
        finding.unit = "mm";
        finding.at_mm = placement_.apply(measure_.sound.box.centre_mm());
        // Which unit, taken for another, would explain it.
        for (const LengthUnit meant : {LengthUnit::inch, LengthUnit::cm, LengthUnit::m, LengthUnit::mm}) {
            for (const LengthUnit taken : {LengthUnit::mm, LengthUnit::cm, LengthUnit::m, LengthUnit::inch}) {
                const double would_be = largest * mm_per(meant) / mm_per(taken);
                if (finding.remedy.empty() && would_be >= kLeastPlausible_mm && would_be <= kMostPlausible_mm &&
                    (taken == LengthUnit::mm || meant == LengthUnit::mm)) {
                    finding.remedy =
                        fmt::format("If the file is in {} and not in {}, it is {} long: state \"unit\": \"{}\".",
                                    name_of(meant), name_of(taken), length_mark(would_be), name_of(meant));
                }
            }
        }
        if (finding.remedy.empty()) {
            finding.remedy = "No usual unit makes it plausible: see that it is the right file.";
        }
    }

    void sound() {
        const Soundness& s = measure_.sound;
        const Vec3 size = s.box.size_mm();
        std::string few;
        if (const std::size_t flawed = s.flat_triangles.count + s.doubled_triangles.count + s.slivers.count;
            flawed > 0) {
            few = fmt::format("; {} of {} triangles are flat, doubled or needle-thin, too few to matter", flawed,
                              measure_.triangles);
        }
        Finding& finding =
            add(Verdict::go,
                fmt::format("{} is closed and sound: {} x {} x {}, {} triangles{}", measure_.body, length_mark(size.x),
                            length_mark(size.y), length_mark(size.z), measure_.triangles, few),
                "Every edge has two triangles, all face outward, none cross.", "");
        finding.at_mm = placement_.apply(s.box.centre_mm());
    }

    const MeshMeasure& measure_;
    const Pose& placement_;
    std::vector<Finding> findings_;
};

} // namespace

MeshMeasure measure_mesh(const std::string& body, const TriangleMesh& mesh, Progress& progress) {
    return {body, soundness_of(mesh), self_intersections(mesh, [&] { return progress.cancelled(); }),
            mesh.triangles.size()};
}

std::vector<Finding> judge(const MeshMeasure& measure, const Pose& placement) {
    return Judge(measure, placement).take();
}

std::vector<Finding> check_meshes(const Setup& setup, const Assembly& assembly, Progress& progress) {
    const Press& press = *setup.press;
    const auto from_file = [&](std::size_t index, const Body& body) {
        switch (body.part) {
        case Part::mold_lower:
        case Part::mold_upper:
            return true; // a block too: it tells its size
        case Part::head:
            return press.head.mesh != nullptr;
        case Part::platen:
            return press.platen.mesh != nullptr;
        case Part::intermediate_platen:
            return std::any_of(setup.intermediate_platens.begin(), setup.intermediate_platens.end(),
                               [&](const IntermediatePlaten& platen) { return platen.plate.mesh == body.mesh; });
        case Part::member: // members stand first, in the press' order
            return index < press.members.size() && std::holds_alternative<MeshSection>(press.members[index].section);
        default:
            return false;
        }
    };
    std::vector<Finding> findings;
    std::set<const TriangleMesh*> seen;
    for (std::size_t i = 0; i < assembly.bodies.size() && !progress.cancelled(); ++i) {
        const Body& body = assembly.bodies[i];
        if (from_file(i, body) && seen.insert(body.mesh.get()).second) {
            const MeshMeasure measure = measure_mesh(body.name, *body.mesh, progress);
            if (progress.cancelled()) {
                break; // its self-intersections were not all looked for: no verdict
            }
            for (Finding& finding : judge(measure, body.placement)) {
                findings.push_back(std::move(finding));
            }
        }
    }
    return findings;
}

} // namespace evenclose
