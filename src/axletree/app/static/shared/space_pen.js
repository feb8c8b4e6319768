// How does a mesh reach a canvas? Filled, shaded, with ink around its edge.

const VERTEX = `attribute vec3 p; attribute vec3 n; attribute vec3 o; uniform mat4 view; uniform mat3 turn; uniform vec3 at; uniform vec2 ink;
varying vec3 normal; varying float z;
void main() { vec3 w = turn * p + at; normal = turn * n; z = w.z; vec4 c = view * vec4(w, 1.0);
vec2 out2 = (view * vec4(turn * o, 0.0)).xy; if (ink.x > 0.0) c.xy += normalize(out2 / ink + 1e-6) * ink * c.w; gl_Position = c; }`;
const FRAGMENT = `precision mediump float; varying vec3 normal; varying float z; uniform vec4 colour; uniform float dark; uniform float floor_;
void main() { if (z < floor_) discard; float l = mix(dark, 1.0, clamp(0.5 + 0.5 * dot(normalize(normal), vec3(0.36, -0.48, 0.8)), 0.0, 1.0));
gl_FragColor = vec4(colour.rgb * l * colour.a, colour.a); }`;

// Null where the browser has no WebGL.
export function spacePen(canvas) {
  let gl = null;
  try {
    gl = canvas.getContext("webgl", { antialias: true, alpha: false, powerPreference: "low-power" });
  } catch {
    return null;
  }
  if (!gl) return null;
  const shader = (kind, text) => {
    const s = gl.createShader(kind);
    gl.shaderSource(s, text);
    gl.compileShader(s);
    return s;
  };
  const program = gl.createProgram();
  gl.attachShader(program, shader(gl.VERTEX_SHADER, VERTEX));
  gl.attachShader(program, shader(gl.FRAGMENT_SHADER, FRAGMENT));
  gl.linkProgram(program);
  if (!gl.getProgramParameter(program, gl.LINK_STATUS)) return null;
  gl.useProgram(program);
  const at = Object.fromEntries(
    ["view", "turn", "at", "colour", "dark", "ink", "floor_"].map((name) => [
      name,
      gl.getUniformLocation(program, name),
    ]),
  );
  const places = ["p", "n", "o"].map((name) => gl.getAttribLocation(program, name));
  const store = (mesh) => ({
    count: mesh.positions.length / 3,
    buffers: [mesh.positions, mesh.normals, mesh.outs].map((data) => {
      const b = gl.createBuffer();
      gl.bindBuffer(gl.ARRAY_BUFFER, b);
      gl.bufferData(gl.ARRAY_BUFFER, new Float32Array(data), gl.STATIC_DRAW);
      return b;
    }),
  });
  function show(mesh, turn, origin, colour, { alpha = 1, dark = 1, ink = 0 } = {}) {
    mesh.buffers.forEach((b, i) => {
      if (places[i] < 0) return;
      gl.bindBuffer(gl.ARRAY_BUFFER, b);
      gl.enableVertexAttribArray(places[i]);
      gl.vertexAttribPointer(places[i], 3, gl.FLOAT, false, 0, 0);
    });
    gl.uniformMatrix3fv(at.turn, false, new Float32Array(turn.flat()));
    gl.uniform3fv(at.at, origin);
    gl.uniform4f(at.colour, ...colour, alpha);
    gl.uniform1f(at.dark, dark);
    gl.uniform2f(at.ink, (2 * ink) / canvas.width, (2 * ink) / canvas.height);
    gl.drawArrays(gl.TRIANGLES, 0, mesh.count);
  }
  // Ink is the back of the part, pushed out: it shows only around the edge.
  function inked(mesh, turn, origin, fill, ink, width, { alpha = 1, dark = 1 } = {}) {
    gl.enable(gl.CULL_FACE);
    gl.cullFace(gl.FRONT);
    show(mesh, turn, origin, ink, { ink: width, alpha: Math.min(1, alpha * 2.6) });
    gl.cullFace(gl.BACK);
    show(mesh, turn, origin, fill, { dark, alpha });
    gl.disable(gl.CULL_FACE);
  }
  return {
    store,
    show,
    inked,
    // A clean sheet of this colour, seen through this matrix.
    begin(back, view) {
      gl.viewport(0, 0, canvas.width, canvas.height);
      gl.clearColor(...back, 1);
      gl.enable(gl.DEPTH_TEST);
      gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
      gl.uniformMatrix4fv(at.view, false, view);
    },
    // Nothing is drawn below this height, in metres.
    floor(z) {
      gl.uniform1f(at.floor_, z);
    },
    // What is drawn now lets what is behind it be seen.
    through(on) {
      if (!on) {
        gl.disable(gl.BLEND);
        return;
      }
      gl.enable(gl.BLEND);
      gl.blendFunc(gl.ONE, gl.ONE_MINUS_SRC_ALPHA);
    },
    onLost(fn) {
      canvas.addEventListener("webglcontextlost", (event) => {
        event.preventDefault();
        fn();
      });
    },
  };
}
