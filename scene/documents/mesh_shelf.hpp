// scene/documents/mesh_shelf.hpp: meshes that documents name, each file read once and shared.
#pragma once

#include "scene/documents/object_cursor.hpp"
#include "scene/mesh/import.hpp"
#include "scene/mesh/triangle_mesh.hpp"
#include "scene/units/units.hpp"

#include <filesystem>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <utility>

namespace evenclose {

struct ShelvedMesh {
    SharedMesh mesh; // as in the file, mm; null if it could not be read
    std::string unit_note;
    bool unit_guessed = false;
    std::string fault; // one line, if it could not be read
};

using MeshImporter = std::function<ImportResult(const std::filesystem::path&, std::optional<LengthUnit>)>;

/// Lives as long as one reading. The same file in the same unit is one mesh, also by different spellings of its path; and
/// the one of an earlier reading if somebody still holds it and the file was not written since (by its size and time).
class MeshShelf {
public:
    MeshShelf() : importer_{import_mesh}, reuses_{true} {}
    /// Reads by another importer, and always anew.
    explicit MeshShelf(MeshImporter importer) : importer_{std::move(importer)} {}
    [[nodiscard]] const ShelvedMesh& take(const std::filesystem::path& file, std::optional<LengthUnit> unit);

private:
    MeshImporter importer_;
    bool reuses_ = false;
    std::map<std::pair<std::filesystem::path, std::optional<LengthUnit>>, ShelvedMesh> meshes_;
};

struct NamedMesh {
    std::string file; // as written
    std::optional<std::string> unit;
    SharedMesh mesh; // null if it could not be read, which was told
    std::string unit_note;
};

/// Reads the mesh that `key` names, in the unit that `unit_key` states. A guessed unit is noted.
[[nodiscard]] NamedMesh read_named_mesh(DocumentSource& source, ObjectCursor& object, std::string_view key,
                                        std::string_view unit_key, MeshShelf& shelf);

} // namespace evenclose
