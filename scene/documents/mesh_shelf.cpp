#include "scene/documents/mesh_shelf.hpp"

#include "scene/documents/named_file.hpp"

#include <fmt/format.h>

#include <chrono>
#include <cstdint>
#include <memory>
#include <mutex>
#include <system_error>

namespace evenclose {
namespace {

namespace fs = std::filesystem;

/// What tells that a file was not written since.
struct Stamp {
    std::uintmax_t bytes = 0;
    fs::file_time_type written;
    bool operator==(const Stamp&) const = default;
};

/// None for a file that is not there, or that was written a moment ago: it may be written again without a newer time, for
/// some file systems tell time by two seconds.
std::optional<Stamp> stamp_of(const fs::path& file) {
    std::error_code no_size;
    std::error_code no_time;
    const Stamp stamp{fs::file_size(file, no_size), fs::last_write_time(file, no_time)};
    if (no_size || no_time || fs::file_time_type::clock::now() - stamp.written < std::chrono::seconds(3)) {
        return {};
    }
    return stamp;
}

/// Meshes of earlier readings that somebody still holds.
class Kept {
public:
    using Key = std::pair<fs::path, std::optional<LengthUnit>>;

    std::optional<ShelvedMesh> find(const Key& key) {
        const std::scoped_lock lock(guard_);
        const auto found = entries_.find(key);
        if (found == entries_.end()) {
            return {};
        }
        ShelvedMesh shelved = found->second.told;
        shelved.mesh = found->second.mesh.lock();
        if (shelved.mesh == nullptr || stamp_of(key.first) != found->second.stamp) {
            entries_.erase(found);
            return {};
        }
        return shelved;
    }
    void keep(const Key& key, const Stamp& stamp, const ShelvedMesh& shelved) {
        const std::scoped_lock lock(guard_);
        std::erase_if(entries_, [](const auto& entry) { return entry.second.mesh.expired(); });
        Entry& entry = entries_[key];
        entry = {stamp, shelved.mesh, shelved};
        entry.told.mesh = nullptr;
    }

private:
    struct Entry {
        Stamp stamp;
        std::weak_ptr<const TriangleMesh> mesh;
        ShelvedMesh told;
    };
    std::mutex guard_;
    std::map<Key, Entry> entries_;
};

Kept& kept() {
    static Kept everywhere;
    return everywhere;
}

} // namespace

const ShelvedMesh& MeshShelf::take(const std::filesystem::path& file, std::optional<LengthUnit> unit) {
    std::error_code error;
    std::filesystem::path one_spelling = std::filesystem::weakly_canonical(file, error);
    if (error) {
        one_spelling = file.lexically_normal();
    }
    const auto [place, is_new] = meshes_.try_emplace({std::move(one_spelling), unit});
    ShelvedMesh& shelved = place->second;
    if (is_new) {
        // The stamp is taken before the reading: what is written meanwhile is then seen as newer.
        const std::optional<Stamp> stamp = stamp_of(place->first.first);
        if (auto before = stamp && reuses_ ? kept().find(place->first) : std::nullopt) {
            shelved = std::move(*before);
            return shelved;
        }
        ImportResult result = importer_(file, unit);
        if (auto* imported = std::get_if<ImportedMesh>(&result)) {
            shelved.mesh = std::make_shared<const TriangleMesh>(std::move(imported->mesh));
            shelved.unit_note = std::move(imported->unit_note);
            shelved.unit_guessed = imported->unit_guessed;
            if (stamp && reuses_) {
                kept().keep(place->first, *stamp, shelved);
            }
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
