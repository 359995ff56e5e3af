#include "scene/mesh/import.hpp"

#include "scene/documents/document_fault.hpp"
#include "scene/mesh/apart/apart.hpp"
#include "scene/mesh/formats/files_beside.hpp"
#include "scene/mesh/formats/open_file.hpp"
#include "scene/mesh/formats/raw_mesh.hpp"
#include "scene/mesh/formats/read_mesh.hpp"
#include "scene/mesh/formats/recognise.hpp"
#include "scene/mesh/unit_guess.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <exception>
#include <new>
#include <string>
#include <utility>
#include <vector>

namespace evenclose {
namespace {

std::string ending_of(const std::filesystem::path& file) {
    std::string ending = file.extension().string();
    for (char& c : ending) {
        c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    }
    return ending;
}

/// The files that a mesh names: each must stay in one state while they are read, as the mesh's own.
class NamedFiles {
public:
    explicit NamedFiles(FilesBeside open) : open_(std::move(open)) {}
    [[nodiscard]] FilesBeside opener() {
        return [this](const std::string& written) {
            auto opened = open_(written);
            if (const auto* file = std::get_if<OpenFile>(&opened); file != nullptr && file->state()) {
                read_.emplace_back(written, *file->state());
            }
            return opened;
        };
    }
    /// By their names again, not by descriptors kept: a mesh may name more files than may be open.
    [[nodiscard]] bool unchanged() const {
        return std::all_of(read_.begin(), read_.end(), [this](const auto& read) {
            const auto again = open_(read.first);
            const auto* file = std::get_if<OpenFile>(&again);
            return file != nullptr && read.second.lasts(file->descriptor());
        });
    }

private:
    FilesBeside open_;
    std::vector<std::pair<std::string, FileState>> read_;
};

RawResult read_raw(const OpenFile& file, const std::filesystem::path& path, const FilesBeside& beside) {
    std::array<char, kHeadSize> head{};
    const std::size_t got = file.read(0, head.data(), head.size());
    const Recognised seen = recognise({head.data(), got}, file.size(), ending_of(path));
    if (seen.format == MeshFormat::unknown) {
        return NotRead{fmt::format("is in no format that is read here{}{} (read are {})",
                                   seen.why_unknown.empty() ? "" : ": ", seen.why_unknown, kFormatsRead)};
    }
    return reads_apart() ? read_apart(file, seen.format, beside) : read_mesh(file, seen.format, beside);
}

void scale(TriangleMesh& mesh, double factor) {
    if (factor != 1) {
        for (Vec3& vertex : mesh.vertices_mm) {
            vertex *= factor;
        }
    }
}

/// Chooses the unit and brings the mesh to mm.
ImportedMesh in_mm(RawMesh raw, std::optional<LengthUnit> stated) {
    ImportedMesh result;
    result.corners_read = raw.corners_read;
    // Words out of a file are shown on terminals and written into JSON: what is no letter is not let through.
    for (const std::string& note : raw.notes) {
        result.notes.push_back(shown_path(note));
    }
    for (const std::string& part : raw.parts) {
        result.parts.push_back(shown(part));
    }
    double factor = 1;
    if (stated) {
        result.unit = *stated;
        factor = mm_per(*stated);
        result.unit_note = fmt::format("{} (stated)", name_of(*stated));
        if (raw.unit && raw.unit->mm != factor) {
            result.unit_note =
                fmt::format("{} (stated; the file itself says {})", name_of(*stated), shown(raw.unit->name));
        }
    } else if (raw.unit) {
        factor = raw.unit->mm;
        result.unit_note = fmt::format("{} (the file says so)", shown(raw.unit->name));
        for (const LengthUnit unit :
             {LengthUnit::mm, LengthUnit::cm, LengthUnit::m, LengthUnit::inch, LengthUnit::foot}) {
            if (mm_per(unit) == factor) {
                result.unit = unit;
            }
        }
    } else {
        const UnitGuess guess = guess_unit(bounds_of(raw.mesh).size_mm());
        result.unit = guess.unit;
        result.unit_guessed = true;
        result.unit_note = guess.note;
        factor = mm_per(guess.unit);
    }
    result.mesh = std::move(raw.mesh);
    scale(result.mesh, factor);
    return result;
}

// With coordinates up to here, products of four of them are still far from a double's ends, and the checks' sums hold.
constexpr double kFarthest_mm = 1e9;

double farthest_mm(const TriangleMesh& mesh) {
    double reach = 0;
    for (const Vec3& vertex : mesh.vertices_mm) {
        reach = std::max({reach, std::abs(vertex.x), std::abs(vertex.y), std::abs(vertex.z)});
    }
    return reach;
}

} // namespace

ImportResult import_mesh(const std::filesystem::path& path, std::optional<LengthUnit> stated) {
    const auto fault = [&path](std::string why) { return ImportFault{path.string(), std::move(why)}; };
    try {
        auto opened = OpenFile::open(path);
        if (const auto* why = std::get_if<std::string>(&opened)) {
            return fault(*why);
        }
        NamedFiles named(files_beside(path));
        RawResult read = read_raw(std::get<OpenFile>(opened), path, named.opener());
        // Half of one state and half of another may look sound.
        if (!std::get<OpenFile>(opened).unchanged() || !named.unchanged()) {
            return fault(kChangedWhileRead);
        }
        if (const auto* wrong = std::get_if<NotRead>(&read)) {
            return fault(wrong->why);
        }
        auto& raw = std::get<RawMesh>(read);
        if (raw.mesh.empty()) {
            return fault("has no triangles");
        }
        ImportedMesh result = in_mm(std::move(raw), stated);
        if (const double reach = farthest_mm(result.mesh); !(reach <= kFarthest_mm)) {
            return fault(
                fmt::format("has a corner {:.3g} mm from its origin, and nothing in a shop reaches 1000 km; is the "
                            "file damaged, or its unit another one?",
                            reach));
        }
        return result;
    } catch (const std::bad_alloc&) {
        return fault("needs more memory than there is");
    } catch (const std::exception& error) {
        return fault(fmt::format("cannot be read: {}", error.what()));
    }
}

} // namespace evenclose
