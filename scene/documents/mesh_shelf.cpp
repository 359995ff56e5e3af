#include "scene/documents/mesh_shelf.hpp"

#include "scene/documents/named_file.hpp"

#include <fmt/format.h>

#include <memory>
#include <system_error>

namespace evenclose {

const ShelvedMesh& MeshShelf::take(const std::filesystem::path& file, std::optional<LengthUnit> unit) {
    std::error_code error;
    std::filesystem::path one_spelling = std::filesystem::weakly_canonical(file, error);
    if (error) {
        one_spelling = file.lexically_normal();
    }
    const auto [place, is_new] = meshes_.try_emplace({std::move(one_spelling), unit});
    ShelvedMesh& shelved = place->second;
    if (is_new) {
        ImportResult result = importer_(file, unit);
        if (auto* imported = std::get_if<ImportedMesh>(&result)) {
            shelved.mesh = std::make_shared<const TriangleMesh>(std::move(imported->mesh));
            shelved.unit_note = std::move(imported->unit_note);
            shelved.unit_guessed = imported->unit_guessed;
        } else {
            const auto& fault = std::get<ImportFault>(result);
            shelved.fault = fault.file.empty() ? fault.why : fault.file + ": " + fault.why;
        }
    }
    return shelved;
}

NamedMesh read_named_mesh(DocumentSource& source, ObjectCursor& object, std::string_view key, std::string_view unit_key,
                          MeshShelf& shelf) {
    NamedMesh named;
    named.file = object.text(key);
    named.unit = object.unit(unit_key);
    if (named.file.empty()) {
        return named;
    }
    const std::optional<LengthUnit> unit = named.unit ? read_length_unit(*named.unit) : std::optional<LengthUnit>{};
    const ShelvedMesh& shelved = shelf.take(source.resolve(named.file), unit);
    if (shelved.mesh == nullptr) {
        if (named_file_is_there(source, object, key, named.file)) {
            object.refuse(key, fmt::format("cannot be used: {}", shelved.fault), "");
        }
        return named;
    }
    named.mesh = shelved.mesh;
    named.unit_note = shelved.unit_note;
    if (shelved.unit_guessed) {
        source.note(fmt::format(R"({}: "{}" is taken as {}; state it with "{}")", place_of(object.place(), key),
                                shown(named.file), shelved.unit_note, unit_key));
    }
    return named;
}

} // namespace evenclose
