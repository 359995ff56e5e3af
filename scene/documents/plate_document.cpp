#include "scene/documents/plate_document.hpp"

#include <fmt/format.h>

#include <cmath>
#include <utility>

namespace evenclose {
namespace {

// A mesh that is off by less than this from the stated size is as stated: drawn and sawn sizes differ by more.
constexpr double kSameSize_mm = 1.0;

} // namespace

Platen read_plate(DocumentSource& source, ObjectCursor& object, MeshShelf& shelf) {
    Platen plate;
    plate.size_mm = object.vec2_mm("size", {"x", "y"}, kPositive);
    plate.thickness_mm = object.length_mm("thickness", kPositive);
    plate.centre_mm = object.vec2_mm("centre", {"x", "y"}, kAnyLength, 0.0);
    plate.material = object.text("material", "");
    if (object.has("mesh")) {
        NamedMesh named = read_named_mesh(source, object, "mesh", "mesh_unit", shelf);
        plate.mesh_file = std::move(named.file);
        plate.mesh_unit = std::move(named.unit);
        plate.mesh = std::move(named.mesh);
        if (plate.mesh != nullptr) {
            const Vec3 size = bounds_of(*plate.mesh).size_mm();
            if (std::abs(size.x - plate.size_mm.x) > kSameSize_mm ||
                std::abs(size.y - plate.size_mm.y) > kSameSize_mm) {
                source.note(fmt::format("{}: \"size\" says {:.4g} x {:.4g} mm, the mesh is {:.4g} x {:.4g} mm",
                                        object.place(), plate.size_mm.x, plate.size_mm.y, size.x, size.y));
            }
        }
    } else {
        object.refuse("mesh_unit", "has no mesh beside it", "give \"mesh\" as well, or leave it out");
    }
    if (object.has("mass")) {
        plate.mass_kg = object.mass_kg("mass");
    }
    return plate;
}

} // namespace evenclose
