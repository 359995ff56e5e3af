// A straight line as a strip of constant width on the screen; one instance a line, four corners each.
layout(location = 0) in vec3 from;
layout(location = 1) in vec3 to;
layout(location = 2) in vec4 line_colour;
layout(location = 3) in float line_width_px;

uniform mat4 model_to_eye;
uniform mat4 projection;
uniform vec2 area_px;
uniform vec4 kept; // section plane in the eye's frame; used only while GL_CLIP_DISTANCE0 is on

out vec4 colour;
out float across_px;
flat out float half_width_px;

// The part of a line in front of the eye: a corner behind it would be thrown to the wrong side of the picture.
vec4 before_near(vec4 a, vec4 b) {
    float depth_a = a.z + a.w;
    float depth_b = b.z + b.w;
    return depth_a < 0.0 && depth_b > 0.0 ? mix(a, b, -depth_a / (depth_b - depth_a)) : a;
}

void main() {
    vec4 from_eye = model_to_eye * vec4(from, 1.0);
    vec4 to_eye = model_to_eye * vec4(to, 1.0);
    // Edges that lie in the section's face belong to it.
    gl_ClipDistance[0] = dot(kept, (gl_VertexID & 1) == 0 ? from_eye : to_eye) + 1e-3;
    vec4 a = projection * from_eye;
    vec4 b = projection * to_eye;
    vec4 start = before_near(a, b);
    vec4 end = before_near(b, a);
    vec4 here = (gl_VertexID & 1) == 0 ? start : end;

    vec2 along_px = (end.xy / end.w - start.xy / start.w) * 0.5 * area_px;
    float length_px = length(along_px);
    vec2 direction = length_px > 1e-6 ? along_px / length_px : vec2(1.0, 0.0);
    vec2 sideways = vec2(-direction.y, direction.x);

    // Thinner than a pixel: one pixel wide and paler instead. One pixel more either side for the soft rim.
    half_width_px = 0.5 * max(line_width_px, 1.0);
    colour = vec4(line_colour.rgb, line_colour.a * min(line_width_px, 1.0));
    float side = gl_VertexID < 2 ? -1.0 : 1.0;
    across_px = side * (half_width_px + 0.5);
    here.xy += sideways * across_px * 2.0 / area_px * here.w;
    gl_Position = here;
}
