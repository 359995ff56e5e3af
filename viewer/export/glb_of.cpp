#include "viewer/export/glb_of.hpp"

#include "scene/motion/drawn_pose.hpp"
#include "viewer/export/assimp_mesh.hpp"

#include <assimp/Exporter.hpp>
#include <assimp/material.h>
#include <assimp/scene.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>
#include <stdexcept>
#include <tuple>
#include <utility>
#include <vector>

namespace evenclose {
namespace {

constexpr float kMetre = 0.001F; // of a millimetre

aiQuaternion quaternion_of(const Mat3& rotation, const aiQuaternion* before) {
    const Quat q = glm::quat_cast(rotation);
    aiQuaternion result{static_cast<ai_real>(q.w), static_cast<ai_real>(q.x), static_cast<ai_real>(q.y),
                        static_cast<ai_real>(q.z)};
    // q and -q turn alike; between two keys the shorter way must be taken.
    if (before != nullptr &&
        result.w * before->w + result.x * before->x + result.y * before->y + result.z * before->z < 0) {
        result = {-result.w, -result.x, -result.y, -result.z};
    }
    return result;
}

/// glTF wants linear colours (IEC 61966-2-1).
float linear(float srgb) { return srgb <= 0.04045F ? srgb / 12.92F : std::pow((srgb + 0.055F) / 1.055F, 2.4F); }

std::unique_ptr<aiMaterial> material_of(const Colour& colour) {
    auto material = std::make_unique<aiMaterial>();
    const aiColor4D base{linear(colour.red), linear(colour.green), linear(colour.blue), 1.0F};
    material->AddProperty(&base, 1, AI_MATKEY_BASE_COLOR);
    const float metallic = 0;
    const float rough = 0.8F;
    material->AddProperty(&metallic, 1, AI_MATKEY_METALLIC_FACTOR);
    material->AddProperty(&rough, 1, AI_MATKEY_ROUGHNESS_FACTOR);
    return material;
}

struct Parts {
    std::vector<std::unique_ptr<aiMaterial>> materials;
    std::vector<std::unique_ptr<aiMesh>> meshes;
    std::map<std::tuple<float, float, float>, unsigned> colours;
    std::map<std::pair<const TriangleMesh*, unsigned>, unsigned> known;

    unsigned mesh(const SharedMesh& mesh, const Colour& colour) {
        const auto [at, is_new] =
            colours.emplace(std::tuple{colour.red, colour.green, colour.blue}, static_cast<unsigned>(materials.size()));
        if (is_new) {
            materials.push_back(material_of(colour));
        }
        const auto [found, fresh] =
            known.emplace(std::pair{mesh.get(), at->second}, static_cast<unsigned>(meshes.size()));
        if (fresh) {
            meshes.push_back(assimp_mesh(*mesh, at->second));
        }
        return found->second;
    }
};

bool still(const std::vector<Pose>& poses) {
    return std::all_of(poses.begin(), poses.end(), [&](const Pose& pose) {
        return pose.translation_mm == poses.front().translation_mm && pose.rotation == poses.front().rotation;
    });
}

std::unique_ptr<aiNodeAnim> channel_of(const std::string& name, const std::vector<Pose>& poses, double seconds) {
    auto channel = std::make_unique<aiNodeAnim>();
    channel->mNodeName = name;
    const auto count = static_cast<unsigned>(poses.size());
    channel->mNumPositionKeys = channel->mNumRotationKeys = count;
    channel->mPositionKeys = new aiVectorKey[count]; // NOLINT: aiNodeAnim deletes it
    channel->mRotationKeys = new aiQuatKey[count];   // NOLINT
    for (unsigned i = 0; i < count; ++i) {
        const double time = seconds * i / (count - 1);
        channel->mPositionKeys[i] = aiVectorKey(time, vector_of(poses[i].translation_mm));
        channel->mRotationKeys[i] =
            aiQuatKey(time, quaternion_of(poses[i].rotation, i > 0 ? &channel->mRotationKeys[i - 1].mValue : nullptr));
    }
    channel->mNumScalingKeys = 1;
    channel->mScalingKeys = new aiVectorKey[1]{aiVectorKey(0, {1, 1, 1})}; // NOLINT
    return channel;
}

aiMatrix4x4 matrix_of(const Pose& pose) {
    return {aiVector3D{1, 1, 1}, quaternion_of(pose.rotation, nullptr), vector_of(pose.translation_mm)};
}

} // namespace

std::string glb_of(const Assembly& assembly, const Palette& palette, const GlbStyle& style) {
    Parts parts;
    std::vector<std::unique_ptr<aiNode>> nodes;
    std::vector<std::unique_ptr<aiNodeAnim>> channels;
    std::map<std::string, int> names;
    for (const Body& body : assembly.bodies) {
        const SharedMesh& mesh = drawn_mesh(assembly, body, Travel{0});
        if (!body.drawn || body.part == Part::floor || !mesh || mesh->empty()) {
            continue;
        }
        std::vector<Pose> poses;
        for (int i = 0; i <= style.steps; ++i) {
            poses.push_back(drawn_pose(assembly, body, Travel{assembly.last.mm * i / style.steps}));
        }
        // Channels find their node by name, so no two may have the same.
        const int same = ++names[body.name];
        const std::string name = same == 1 ? body.name : fmt::format("{} {}", body.name, same);
        auto node = std::make_unique<aiNode>(name);
        node->mTransformation = matrix_of(poses.front());
        node->mNumMeshes = 1;
        node->mMeshes = new unsigned[1]{parts.mesh(mesh, colour_of(body, palette))}; // NOLINT: aiNode deletes it
        nodes.push_back(std::move(node));
        if (style.steps > 0 && !still(poses)) {
            channels.push_back(channel_of(name, poses, style.seconds));
        }
    }
    aiScene scene;
    scene.mRootNode = new aiNode("press"); // NOLINT: aiScene deletes it
    // Z up in millimetres to Y up in metres.
    aiMatrix4x4 turned;
    aiMatrix4x4::RotationX(-1.57079632679489662F, turned);
    aiMatrix4x4 smaller;
    aiMatrix4x4::Scaling({kMetre, kMetre, kMetre}, smaller);
    scene.mRootNode->mTransformation = turned * smaller;
    for (const std::unique_ptr<aiNode>& node : nodes) {
        node->mParent = scene.mRootNode;
    }
    scene.mRootNode->mNumChildren = static_cast<unsigned>(nodes.size());
    scene.mRootNode->mChildren = handed_over(nodes);
    scene.mNumMaterials = static_cast<unsigned>(parts.materials.size());
    scene.mMaterials = handed_over(parts.materials);
    scene.mNumMeshes = static_cast<unsigned>(parts.meshes.size());
    scene.mMeshes = handed_over(parts.meshes);
    if (!channels.empty()) {
        auto animation = std::make_unique<aiAnimation>();
        animation->mName = "closing";
        animation->mDuration = style.seconds;
        animation->mTicksPerSecond = 1;
        animation->mNumChannels = static_cast<unsigned>(channels.size());
        animation->mChannels = handed_over(channels);
        scene.mNumAnimations = 1;
        scene.mAnimations = new aiAnimation* [1] { animation.release() }; // NOLINT: aiScene deletes it
    }
    Assimp::Exporter exporter;
    const aiExportDataBlob* blob = exporter.ExportToBlob(&scene, "glb2");
    if (blob == nullptr) {
        throw std::runtime_error(fmt::format("the glTF file could not be made: {}", exporter.GetErrorString()));
    }
    return {static_cast<const char*>(blob->data), blob->size};
}

} // namespace evenclose
