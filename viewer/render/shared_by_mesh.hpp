// viewer/render/shared_by_mesh.hpp: things made from a mesh, once for each, kept as long as somebody holds the mesh.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"

#include <memory>
#include <unordered_map>

namespace evenclose {

/// Threads: none of its own; guard it or keep it on one.
template <class Made> class SharedByMesh {
public:
    /// What was made from this very mesh, or null.
    [[nodiscard]] Made* find(const SharedMesh& mesh) {
        const auto found = entries_.find(mesh.get());
        // A new mesh may stand where a freed one stood: the weak pointer tells them apart.
        return found != entries_.end() && found->second.mesh.lock() == mesh ? &found->second.made : nullptr;
    }
    Made& keep(const SharedMesh& mesh, Made made) {
        Entry& entry = entries_[mesh.get()];
        entry.mesh = mesh;
        entry.made = std::move(made);
        return entry.made;
    }
    /// Lets go of what belongs to meshes that nobody else holds.
    void forget_gone() {
        std::erase_if(entries_, [](const auto& entry) { return entry.second.mesh.expired(); });
    }
    [[nodiscard]] std::size_t size() const { return entries_.size(); }

private:
    struct Entry {
        std::weak_ptr<const TriangleMesh> mesh;
        Made made;
    };
    std::unordered_map<const TriangleMesh*, Entry> entries_;
};

} // namespace evenclose
