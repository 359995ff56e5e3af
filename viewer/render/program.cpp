#include "viewer/render/program.hpp"

#include "viewer/render/shaders.hpp"

#include <fmt/format.h>

#include <array>
#include <stdexcept>

namespace evenclose {
namespace {

GlHandle<GiveShader> compile(GLenum kind, std::string_view file) {
    const std::string name = fmt::format("{}.glsl", file);
    const std::array<const char*, 2> text = {"#version 330 core\n#line 1\n", shader_text(name)};
    GlHandle<GiveShader> shader(glCreateShader(kind));
    glShaderSource(shader.get(), text.size(), text.data(), nullptr);
    glCompileShader(shader.get());
    GLint done = GL_FALSE;
    glGetShaderiv(shader.get(), GL_COMPILE_STATUS, &done);
    if (done != GL_TRUE) {
        std::array<char, 4096> log{};
        glGetShaderInfoLog(shader.get(), log.size(), nullptr, log.data());
        throw std::runtime_error(fmt::format("the OpenGL driver refuses the shader {}: {}", name, log.data()));
    }
    return shader;
}

} // namespace

Program::Program(std::string_view vertex_file, std::string_view fragment_file) {
    const auto vertex = compile(GL_VERTEX_SHADER, vertex_file);
    const auto fragment = compile(GL_FRAGMENT_SHADER, fragment_file);
    program_ = GlHandle<GiveProgram>(glCreateProgram());
    glAttachShader(program_.get(), vertex.get());
    glAttachShader(program_.get(), fragment.get());
    glLinkProgram(program_.get());
    GLint done = GL_FALSE;
    glGetProgramiv(program_.get(), GL_LINK_STATUS, &done);
    if (done != GL_TRUE) {
        std::array<char, 4096> log{};
        glGetProgramInfoLog(program_.get(), log.size(), nullptr, log.data());
        throw std::runtime_error(fmt::format("the OpenGL driver refuses the shaders {} and {} together: {}",
                                             vertex_file, fragment_file, log.data()));
    }
}

GLint Program::at(const char* name) const {
    const auto [place, is_new] = places_.try_emplace(name, -1);
    if (is_new) {
        place->second = glGetUniformLocation(program_.get(), name);
    }
    return place->second;
}

} // namespace evenclose
