#include "scene/mesh/formats/scene_formats.hpp"

#include "scene/mesh/formats/text_scan.hpp"
#include "scene/mesh/formats/welder.hpp"

#include <assimp/IOStream.hpp>
#include <assimp/IOSystem.hpp>
#include <assimp/Importer.hpp>
#include <assimp/scene.h>
#include <fmt/format.h>
#include <glm/mat4x4.hpp>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <string>
#include <string_view>
#include <utility>

namespace evenclose {
namespace {

using Mat4 = glm::dmat4;

// A file of components within components can ask for any number of triangles in a few lines.
constexpr std::size_t kMostTriangles = 200'000'000;
constexpr int kDeepest = 200; // of nodes within nodes

Mat4 matrix_of(const aiMatrix4x4& m) { // Assimp keeps rows, GLM columns
    return {m.a1, m.b1, m.c1, m.d1, m.a2, m.b2, m.c2, m.d2, m.a3, m.b3, m.c3, m.d3, m.a4, m.b4, m.c4, m.d4};
}

/// Adds what a scene holds to one mesh.
class SceneReader {
public:
    explicit SceneReader(const aiScene& scene) : scene_(scene), welder_(corners_of(scene)) {}

    RawResult read(const Mat4& outermost) {
        if (auto wrong = add_node(*scene_.mRootNode, outermost, 0)) {
            return *wrong;
        }
        raw_.corners_read = 3 * raw_.mesh.triangles.size();
        raw_.mesh.vertices_mm = welder_.take();
        if (left_out_ > 0) {
            raw_.notes.push_back(fmt::format("{} points and lines were not read", left_out_));
        }
        return std::move(raw_);
    }

private:
    static std::size_t corners_of(const aiScene& scene) {
        std::size_t sum = 0;
        for (unsigned i = 0; i < scene.mNumMeshes; ++i) {
            sum += scene.mMeshes[i]->mNumVertices;
        }
        return sum;
    }

    std::optional<NotRead> add_node(const aiNode& node, const Mat4& above, int depth) {
        if (depth > kDeepest) {
            return NotRead{fmt::format("its nodes are nested more than {} deep", kDeepest)};
        }
        const Mat4 placement = above * matrix_of(node.mTransformation);
        for (unsigned i = 0; i < node.mNumMeshes; ++i) {
            if (node.mMeshes[i] >= scene_.mNumMeshes) {
                return NotRead{"a node names a mesh that is not there"};
            }
            if (auto wrong = add_mesh(*scene_.mMeshes[node.mMeshes[i]], placement)) {
                return wrong;
            }
        }
        for (unsigned i = 0; i < node.mNumChildren; ++i) {
            if (auto wrong = add_node(*node.mChildren[i], placement, depth + 1)) {
                return wrong;
            }
        }
        return {};
    }

    std::optional<NotRead> add_mesh(const aiMesh& mesh, const Mat4& placement) {
        const bool mirrors = glm::determinant(glm::dmat3(placement)) < 0;
        if (raw_.mesh.triangles.size() + mesh.mNumFaces > kMostTriangles) {
            return NotRead{fmt::format("has more than {} triangles", kMostTriangles)};
        }
        numbers_.assign(mesh.mNumVertices, kUnused);
        for (unsigned f = 0; f < mesh.mNumFaces; ++f) {
            const aiFace& face = mesh.mFaces[f];
            if (face.mNumIndices < 3) {
                ++left_out_;
                continue;
            }
            if (face.mNumIndices > 3) {
                return NotRead{
                    fmt::format("face {} has {} corners; its format has triangles only", f + 1, face.mNumIndices)};
            }
            TriangleCorners triangle;
            for (unsigned k = 0; k < 3; ++k) {
                const unsigned index = face.mIndices[k];
                if (index >= mesh.mNumVertices) {
                    return NotRead{fmt::format("triangle {} has a vertex that is not there (there are {})", f + 1,
                                               mesh.mNumVertices)};
                }
                if (numbers_[index] == kUnused) {
                    const aiVector3D& v = mesh.mVertices[index];
                    const Vec3 at(placement * glm::dvec4(v.x, v.y, v.z, 1.0));
                    if (!std::isfinite(at.x) || !std::isfinite(at.y) || !std::isfinite(at.z)) {
                        return NotRead{fmt::format("triangle {} has a corner that is not a finite number",
                                                   raw_.mesh.triangles.size() + 1)};
                    }
                    numbers_[index] = welder_.add(at);
                }
                triangle[mirrors ? 2 - k : k] = numbers_[index];
            }
            raw_.mesh.triangles.push_back(triangle);
        }
        return {};
    }

    static constexpr std::uint32_t kUnused = 0xFFFFFFFFU;
    const aiScene& scene_;
    RawMesh raw_;
    Welder welder_;
    std::vector<std::uint32_t> numbers_; // of the mesh at hand
    std::size_t left_out_ = 0;
};

struct FormatName {
    const char* hint;
    const char* ending;
};
FormatName name_of(MeshFormat format) {
    switch (format) {
    case MeshFormat::three_mf:
        return {"3mf", ".3mf"};
    case MeshFormat::gltf:
        return {"gltf", ".gltf"};
    default:
        return {"glb", ".glb"};
    }
}

/// Bytes in memory, as Assimp reads a file.
class HandedStream : public Assimp::IOStream {
public:
    explicit HandedStream(std::string_view bytes) : bytes_(bytes) {}
    HandedStream(FileText text) : owned_(std::move(text)), bytes_(owned_.view()) {}
    size_t Read(void* into, size_t size, size_t count) override {
        const std::size_t whole_items = size == 0 ? 0 : std::min(count, (bytes_.size() - at_) / size);
        std::memcpy(into, bytes_.data() + at_, whole_items * size);
        at_ += whole_items * size;
        return whole_items;
    }
    size_t Write(const void* /*from*/, size_t /*size*/, size_t /*count*/) override { return 0; }
    aiReturn Seek(size_t offset, aiOrigin from) override {
        const std::size_t base = from == aiOrigin_SET ? 0 : from == aiOrigin_CUR ? at_ : bytes_.size();
        if (base + offset > bytes_.size() || base + offset < base) {
            return aiReturn_FAILURE;
        }
        at_ = base + offset;
        return aiReturn_SUCCESS;
    }
    [[nodiscard]] size_t Tell() const override { return at_; }
    [[nodiscard]] size_t FileSize() const override { return bytes_.size(); }
    void Flush() override {}

private:
    FileText owned_;
    std::string_view bytes_;
    std::size_t at_ = 0;
};

/// The mesh file under a name of ours, and what it names beside it. Nothing else is a file, and nothing is written.
class HandedFiles : public Assimp::IOSystem {
public:
    HandedFiles(std::string name, std::string_view bytes, const FilesBeside& beside)
        : name_(std::move(name)), bytes_(bytes), beside_(beside) {}
    bool Exists(const char* file) const override { return file == name_; }
    [[nodiscard]] char getOsSeparator() const override { return '/'; }
    Assimp::IOStream* Open(const char* file, const char* /*mode*/) override {
        if (file == name_) {
            return new HandedStream(bytes_);
        }
        std::string_view written = file;
        if (written.starts_with("./")) {
            written.remove_prefix(2);
        }
        auto opened = beside_(std::string(written));
        std::optional<FileText> text;
        if (const auto* there = std::get_if<OpenFile>(&opened)) {
            text = whole(*there);
        }
        if (!text) {
            if (fault_.empty()) {
                const auto* why = std::get_if<std::string>(&opened);
                fault_ = fmt::format("names the file {}: {}", shortened(written), why ? *why : kChangedWhileRead);
            }
            return nullptr;
        }
        return new HandedStream(std::move(*text));
    }
    void Close(Assimp::IOStream* file) override { delete file; }

    [[nodiscard]] const std::string& name() const { return name_; }
    [[nodiscard]] const std::string& fault() const { return fault_; }

private:
    std::string name_;
    std::string_view bytes_;
    const FilesBeside& beside_;
    std::string fault_; // the first file that was not to be had
};

std::string one_line(std::string text) {
    text.resize(std::min(text.find_first_of("\r\n"), text.size()));
    constexpr std::size_t kLongest = 160;
    if (text.size() > kLongest) {
        text.resize(kLongest);
        text += "...";
    }
    return text.empty() ? "it cannot be read" : text;
}

} // namespace

RawResult read_scene(const OpenFile& file, MeshFormat format, const FilesBeside& beside) {
    std::optional<FileUnit> unit;
    const bool is_gltf = format == MeshFormat::gltf || format == MeshFormat::glb;
    if (format == MeshFormat::three_mf) {
        auto read = unit_of_3mf(file);
        if (const auto* wrong = std::get_if<NotRead>(&read)) {
            return *wrong;
        }
        unit = std::get<FileUnit>(read);
    } else if (is_gltf) {
        unit = FileUnit{1000, "m"};
    }

    const FormatName name = name_of(format);
    const auto bytes = whole(file);
    if (!bytes) {
        return NotRead{kChangedWhileRead};
    }
    // Assimp goes by the name's ending, and gets one that goes with the content. It opens no file by itself.
    Assimp::Importer importer;
    auto* files = new HandedFiles(std::string("mesh") + name.ending, bytes->view(), beside);
    importer.SetIOHandler(files); // which takes it over
    const aiScene* scene = importer.ReadFile(files->name(), 0U);
    if (!files->fault().empty()) {
        return NotRead{files->fault()};
    }
    if (scene == nullptr || scene->mRootNode == nullptr) {
        return NotRead{"cannot be read as " + std::string(name.hint) + ": " + one_line(importer.GetErrorString())};
    }
    Mat4 outermost(1.0);
    if (is_gltf) {
        outermost = Mat4(Mat3(Vec3(1, 0, 0), Vec3(0, 0, 1), Vec3(0, -1, 0)));
    }
    RawResult result = SceneReader(*scene).read(outermost);
    if (auto* raw = std::get_if<RawMesh>(&result)) {
        raw->unit = unit;
    }
    return result;
}

} // namespace evenclose
