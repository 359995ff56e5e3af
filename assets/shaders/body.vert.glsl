// A body's surface. Everything is in the eye's frame: x right, y up, z towards the viewer, mm.
layout(location = 0) in vec3 position;
layout(location = 1) in vec2 octahedral_normal;
layout(location = 2) in vec4 tint; // alpha 0: none here

uniform mat4 model_to_eye;
uniform mat4 projection;
uniform vec4 kept; // section plane in the eye's frame; used only while GL_CLIP_DISTANCE0 is on

out vec3 eye_position;
out vec3 eye_normal;
out vec4 surface_tint;

// Octahedral unit vector: Meyer et al., "On floating-point normal vectors", EGSR 2010.
vec3 unfolded(vec2 folded) {
    vec3 n = vec3(folded, 1.0 - abs(folded.x) - abs(folded.y));
    if (n.z < 0.0) {
        n.xy = (1.0 - abs(n.yx)) * vec2(n.x >= 0.0 ? 1.0 : -1.0, n.y >= 0.0 ? 1.0 : -1.0);
    }
    return n;
}

void main() {
    vec4 in_eye = model_to_eye * vec4(position, 1.0);
    eye_position = in_eye.xyz;
    eye_normal = mat3(model_to_eye) * unfolded(octahedral_normal);
    // Linear, times alpha: so that a vertex without a tint does not lend its neighbours a colour.
    surface_tint = vec4(tint.rgb * tint.rgb * tint.a, tint.a);
    gl_ClipDistance[0] = dot(kept, in_eye);
    gl_Position = projection * in_eye;
}
