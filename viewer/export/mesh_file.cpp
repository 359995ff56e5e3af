#include "viewer/export/mesh_file.hpp"

#include "viewer/export/assimp_mesh.hpp"

#include <assimp/Exporter.hpp>
#include <assimp/scene.h>
#include <fmt/format.h>

#include <cerrno>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <memory>
#include <stdexcept>
#include <system_error>
#include <utility>
#include <vector>

namespace evenclose {
namespace {

std::runtime_error not_written(const std::string& name, const std::string& why) {
    return std::runtime_error(fmt::format("{} cannot be written as a mesh: {}", name, why));
}

std::string stl_bytes(const aiScene& scene, const std::string& name) {
    Assimp::Exporter exporter;
    const aiExportDataBlob* blob = exporter.ExportToBlob(&scene, "stlb");
    if (blob == nullptr) {
        throw not_written(name, exporter.GetErrorString());
    }
    return {static_cast<const char*>(blob->data), blob->size};
}

/// Assimp writes the package of a 3MF into a file only.
std::string three_mf_bytes(const aiScene& scene, const std::string& name) {
    std::string folder = (std::filesystem::temp_directory_path() / "evenclose-XXXXXX").string();
    if (::mkdtemp(folder.data()) == nullptr) {
        throw not_written(name, std::generic_category().message(errno));
    }
    const std::string file = folder + "/piece.3mf";
    Assimp::Exporter exporter;
    const bool done = exporter.Export(&scene, "3mf", file) == aiReturn_SUCCESS;
    std::string bytes;
    if (done) {
        std::ifstream stream(file, std::ios::binary);
        bytes.assign(std::istreambuf_iterator<char>(stream), {});
    }
    std::error_code ignored;
    std::filesystem::remove_all(folder, ignored);
    if (!done || bytes.empty()) {
        throw not_written(name, exporter.GetErrorString());
    }
    return bytes;
}

} // namespace

std::string mesh_file(const TriangleMesh& mesh, const std::string& name, MeshFileKind kind) {
    aiScene scene;
    std::vector<std::unique_ptr<aiMesh>> meshes;
    meshes.push_back(assimp_mesh(mesh, 0));
    meshes.front()->mName = name;
    std::vector<std::unique_ptr<aiMaterial>> materials;
    materials.push_back(std::make_unique<aiMaterial>());
    // A node below the root: of the root's own meshes the 3MF exporter makes nothing.
    scene.mRootNode = new aiNode("pieces"); // NOLINT: aiScene deletes it
    auto node = std::make_unique<aiNode>(name);
    node->mParent = scene.mRootNode;
    node->mNumMeshes = 1;
    node->mMeshes = new unsigned[1]{0}; // NOLINT: aiNode deletes it
    std::vector<std::unique_ptr<aiNode>> nodes;
    nodes.push_back(std::move(node));
    scene.mRootNode->mNumChildren = 1;
    scene.mRootNode->mChildren = handed_over(nodes);
    scene.mNumMeshes = 1;
    scene.mMeshes = handed_over(meshes);
    scene.mNumMaterials = 1;
    scene.mMaterials = handed_over(materials);
    return kind == MeshFileKind::stl ? stl_bytes(scene, name) : three_mf_bytes(scene, name);
}

} // namespace evenclose
