#include "scene/mesh/import.hpp"

#include "scene/mesh/formats/obj.hpp"
#include "scene/mesh/formats/off.hpp"
#include "scene/mesh/formats/open_file.hpp"
#include "scene/mesh/formats/ply.hpp"
#include "scene/mesh/formats/recognise.hpp"
#include "scene/mesh/formats/scene_formats.hpp"
#include "scene/mesh/formats/step.hpp"
#include "scene/mesh/formats/stl.hpp"
#include "scene/mesh/unit_guess.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <exception>
#include <new>
#include <utility>

namespace evenclose {
namespace {

std::string ending_of(const std::filesystem::path& file) {
    std::string ending = file.extension().string();
    for (char& c : ending) {
        c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    }
    return ending;
}

RawResult read_text(const OpenFile& file, RawResult (*reader)(std::string_view)) {
    const auto text = whole(file);
    return text ? reader(text->view()) : RawResult(NotRead{kChangedWhileRead});
}

RawResult read_raw(const OpenFile& file, const std::filesystem::path& path) {
    std::array<char, kHeadSize> head{};
    const std::size_t got = file.read(0, head.data(), head.size());
    const Recognised seen = recognise({head.data(), got}, file.size(), ending_of(path));
    switch (seen.format) {
    case MeshFormat::stl_binary:
        return read_binary_stl(file);
    case MeshFormat::stl_text:
        return read_text(file, read_text_stl);
    case MeshFormat::obj:
        return read_obj(file);
    case MeshFormat::ply:
        return read_text(file, read_ply);
    case MeshFormat::off:
        return read_text(file, read_off);
    case MeshFormat::three_mf:
    case MeshFormat::gltf:
    case MeshFormat::glb:
        return read_scene(file, path, seen.format);
    case MeshFormat::step:
#ifdef EVENCLOSE_STEP
        return read_step(file);
#else
        return NotRead{"is a STEP file, and this evenclose was built without a reader for it; export it as STL or 3MF"};
#endif
    case MeshFormat::unknown:
        break;
    }
    return NotRead{fmt::format("is in no format that is read here{}{} (read are {})",
                               seen.why_unknown.empty() ? "" : ": ", seen.why_unknown, kFormatsRead)};
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
    result.notes = std::move(raw.notes);
    result.parts = std::move(raw.parts);
    double factor = 1;
    if (stated) {
        result.unit = *stated;
        factor = mm_per(*stated);
        result.unit_note = fmt::format("{} (stated)", name_of(*stated));
        if (raw.unit && raw.unit->mm != factor) {
            result.unit_note = fmt::format("{} (stated; the file itself says {})", name_of(*stated), raw.unit->name);
        }
    } else if (raw.unit) {
        factor = raw.unit->mm;
        result.unit_note = fmt::format("{} (the file says so)", raw.unit->name);
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

} // namespace

ImportResult import_mesh(const std::filesystem::path& path, std::optional<LengthUnit> stated) {
    const auto fault = [&path](std::string why) { return ImportFault{path.string(), std::move(why)}; };
    try {
        auto opened = OpenFile::open(path);
        if (const auto* why = std::get_if<std::string>(&opened)) {
            return fault(*why);
        }
        RawResult read = read_raw(std::get<OpenFile>(opened), path);
        if (const auto* wrong = std::get_if<NotRead>(&read)) {
            return fault(wrong->why);
        }
        auto& raw = std::get<RawMesh>(read);
        if (raw.mesh.empty()) {
            return fault("has no triangles");
        }
        return in_mm(std::move(raw), stated);
    } catch (const std::bad_alloc&) {
        return fault("needs more memory than there is");
    } catch (const std::exception& error) {
        return fault(fmt::format("cannot be read: {}", error.what()));
    }
}

} // namespace evenclose
