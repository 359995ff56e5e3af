in vec2 unit;
uniform vec3 above;
uniform vec3 below;
out vec4 shown;
void main() {
    float t = smoothstep(0.0, 1.0, unit.y);
    // Half a step of ordered noise: a slow gradient of 8 bits would show its steps.
    float noise = fract(52.9829189 * fract(dot(floor(gl_FragCoord.xy), vec2(0.06711056, 0.00583715)))) - 0.5;
    shown = vec4(mix(below, above, t) + noise / 255.0, 1.0);
}
