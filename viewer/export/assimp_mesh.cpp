#include "viewer/export/assimp_mesh.hpp"

namespace evenclose {

std::unique_ptr<aiMesh> assimp_mesh(const TriangleMesh& from, unsigned material) {
    auto mesh = std::make_unique<aiMesh>();
    mesh->mPrimitiveTypes = aiPrimitiveType_TRIANGLE;
    mesh->mMaterialIndex = material;
    mesh->mNumVertices = static_cast<unsigned>(from.vertices_mm.size());
    mesh->mVertices = new aiVector3D[from.vertices_mm.size()]; // NOLINT: aiMesh deletes it
    std::transform(from.vertices_mm.begin(), from.vertices_mm.end(), mesh->mVertices, vector_of);
    mesh->mNumFaces = static_cast<unsigned>(from.triangles.size());
    mesh->mFaces = new aiFace[from.triangles.size()]; // NOLINT: aiMesh deletes it
    for (std::size_t i = 0; i < from.triangles.size(); ++i) {
        mesh->mFaces[i].mNumIndices = 3;
        mesh->mFaces[i].mIndices = new unsigned[3]{from.triangles[i][0], from.triangles[i][1], from.triangles[i][2]};
    }
    return mesh;
}

} // namespace evenclose
