// viewer/render/program.hpp: a vertex and a fragment shader linked into one, with its uniforms by name.
//
// Threads: the one that owns the context.
#pragma once

#include "viewer/render/frame.hpp"
#include "viewer/render/gl_handle.hpp"

#include <glm/mat4x4.hpp>
#include <glm/vec2.hpp>
#include <glm/vec3.hpp>
#include <glm/vec4.hpp>

#include <span>
#include <string>
#include <string_view>
#include <unordered_map>

namespace evenclose {

class Program {
public:
    /// Files of assets/shaders without ".glsl". Faults: std::runtime_error with the file and the driver's own words.
    Program(std::string_view vertex_file, std::string_view fragment_file);

    void use() const { glUseProgram(program_.get()); }

    // For the program in use. A uniform that the driver found unused is passed over.
    void set(const char* name, float value) const { glUniform1f(at(name), value); }
    void set(const char* name, int value) const { glUniform1i(at(name), value); }
    void set(const char* name, const glm::vec2& value) const { glUniform2f(at(name), value.x, value.y); }
    void set(const char* name, const glm::vec3& value) const { glUniform3f(at(name), value.x, value.y, value.z); }
    void set(const char* name, const glm::vec4& value) const {
        glUniform4f(at(name), value.x, value.y, value.z, value.w);
    }
    void set(const char* name, std::span<const glm::vec2> values) const {
        glUniform2fv(at(name), static_cast<GLsizei>(values.size()), &values.front().x);
    }
    void set(const char* name, const glm::mat4& value) const {
        glUniformMatrix4fv(at(name), 1, GL_FALSE, &value[0][0]);
    }

private:
    [[nodiscard]] GLint at(const char* name) const;
    GlHandle<GiveProgram> program_;
    mutable std::unordered_map<std::string, GLint> places_;
};

[[nodiscard]] inline glm::vec4 vec4_of(const Colour& c) { return {c.red, c.green, c.blue, c.alpha}; }
[[nodiscard]] inline glm::vec3 vec3_of(const Colour& c) { return {c.red, c.green, c.blue}; }
/// Light adds up in linear values. A square takes sRGB to linear within 0.03, and the square root at a shader's end
/// takes it back exactly, cheaper than the true curve by a power function a pixel.
[[nodiscard]] inline glm::vec3 linear(const Colour& c) { return vec3_of(c) * vec3_of(c); }

} // namespace evenclose
