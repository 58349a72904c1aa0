"use strict";
// Turns the model of a page.  Everything it draws stands in the page; it loads nothing and keeps nothing.
// Model axes: x aft, y right, z up.  The eye looks along a parallel projection.
(() => {
  const RIGHT_ANGLE = Math.PI / 2;
  const STEP = Math.PI / 18; // ten degrees a key
  const FIRST = { about: Math.PI * 1.19, above: 0.42, zoom: 1 }; // from the front left, from above
  const SHARP = 0.93; // cosine of what two faces turn between them to show an edge: 22 degrees
  const BARE = [0.62, 0.62, 0.62]; // edges of the other parts while one is shown
  const CHOSEN = [0.95, 0.62, 0.2];
  const LINE = 1.1; // width of an edge, in dots of the page
  const EDGE = [0.08, 0.08, 0.08];
  const WAYS = ["behind", "behind right", "the right", "front right", "the front", "front left", "the left", "behind left"];

  // A corner of a face knows where its face looks; one of an edge, which is drawn as a narrow strip, where the
  // edge ends, and on which side of it the corner lies.
  const VERTEX = `
    attribute vec3 place; attribute vec3 towards; attribute float side;
    uniform mat3 view; uniform vec2 scale; uniform vec2 size; uniform float width;
    varying float light;
    void main() {
      vec3 seen = view * place;
      vec3 other = view * towards;
      vec2 at = seen.xy * scale;
      float near = 0.0;
      if (side == 0.0) {
        light = 0.66 + 0.34 * max(0.0, dot(other, vec3(-0.48, 0.6, 0.64)));
      } else {
        vec2 along = (other.xy * scale - at) * size;
        float reach = max(length(along), 0.001);
        at += vec2(-along.y, along.x) / reach * side * width / size;
        near = 0.001;
        light = 1.0;
      }
      gl_Position = vec4(at, -0.5 * seen.z - near, 1.0);
    }`;
  const FRAGMENT = `
    precision mediump float;
    uniform vec3 colour;
    varying float light;
    void main() { gl_FragColor = vec4(colour * light, 1.0); }`;

  function bytes(text) {
    const letters = atob(text);
    const values = new Uint8Array(letters.length);
    for (let i = 0; i < letters.length; i += 1) values[i] = letters.charCodeAt(i);
    return values.buffer;
  }

  // Triangles of every part one after another, each corner with the direction its face looks, and then edges.
  function shapes(data) {
    const points = new Int16Array(bytes(data.points));
    const corners = data.bytes === 4 ? new Uint32Array(bytes(data.corners)) : new Uint16Array(bytes(data.corners));
    const faces = new Float32Array(corners.length * 6);
    const lines = [];
    const parts = [];
    let first = 0;
    for (const [, count, colour] of data.parts) {
      const part = { first, count: count * 3, colour: colour.map((value) => value / 255), line: lines.length / 7 };
      const edges = new Map();
      for (let i = first; i < first + count * 3; i += 3) triangle(points, corners, i, faces, edges);
      for (const edge of edges.values()) if (edge.drawn !== false) lines.push(...strip(...edge.ends));
      part.lines = lines.length / 7 - part.line;
      parts.push(part);
      first += count * 3;
    }
    return { faces, lines: new Float32Array(lines), parts, size: sizes(points) };
  }

  function triangle(points, corners, i, faces, edges) {
    const at = [0, 1, 2].map((k) => corners[i + k] * 3);
    const [a, b, c] = at.map((p) => [points[p] / 32767, points[p + 1] / 32767, points[p + 2] / 32767]);
    const u = b.map((value, k) => value - a[k]);
    const v = c.map((value, k) => value - a[k]);
    const out = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    const length = Math.hypot(...out);
    if (length === 0) return;
    const normal = out.map((value) => value / length);
    [a, b, c].forEach((corner, k) => faces.set([...corner, ...normal], (i + k) * 6));
    const names = at.map((p) => `${points[p]} ${points[p + 1]} ${points[p + 2]}`);
    const ends = [a, b, c];
    for (let k = 0; k < 3; k += 1) {
      const l = (k + 1) % 3;
      const name = names[k] < names[l] ? `${names[k]},${names[l]}` : `${names[l]},${names[k]}`;
      const known = edges.get(name);
      if (!known) edges.set(name, { normal, ends: [ends[k], ends[l]] });
      else if (known.drawn === undefined) known.drawn = dot(known.normal, normal) < SHARP;
      else known.drawn = true;
    }
  }

  // Two triangles; seen from either end the other side is the left one.
  function strip(a, b) {
    const [first, second] = [[...a, ...b], [...b, ...a]];
    return [...first, 1, ...first, -1, ...second, 1, ...first, 1, ...second, 1, ...second, -1];
  }

  function dot(a, b) {
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  }

  // How far the model reaches from its middle in the plane, and up.
  function sizes(points) {
    let flat = 0;
    let up = 0;
    for (let i = 0; i < points.length; i += 3) {
      flat = Math.max(flat, Math.hypot(points[i], points[i + 1]));
      up = Math.max(up, Math.abs(points[i + 2]));
    }
    return { flat: flat / 32767, up: up / 32767 };
  }

  function programme(gl) {
    const whole = gl.createProgram();
    for (const [kind, source] of [[gl.VERTEX_SHADER, VERTEX], [gl.FRAGMENT_SHADER, FRAGMENT]]) {
      const shader = gl.createShader(kind);
      gl.shaderSource(shader, source);
      gl.compileShader(shader);
      gl.attachShader(whole, shader);
    }
    gl.linkProgram(whole);
    return gl.getProgramParameter(whole, gl.LINK_STATUS) ? whole : null;
  }

  function buffer(gl, values) {
    const made = gl.createBuffer();
    gl.bindBuffer(gl.ARRAY_BUFFER, made);
    gl.bufferData(gl.ARRAY_BUFFER, values, gl.STATIC_DRAW);
    return made;
  }

  // Rows: to the right of the eye, up, and towards it.
  function axes(view) {
    const [ca, sa, cp, sp] = [Math.cos(view.about), Math.sin(view.about), Math.cos(view.above), Math.sin(view.above)];
    return [[-sa, ca, 0], [-sp * ca, -sp * sa, cp], [cp * ca, cp * sa, sp]];
  }

  function painter(canvas, model) {
    const gl = canvas.getContext("webgl", { antialias: true, preserveDrawingBuffer: true });
    const whole = gl && programme(gl);
    if (!whole) return null;
    const of = (name) => gl.getUniformLocation(whole, name);
    const [view, scale, size, wide, colour] = ["view", "scale", "size", "width", "colour"].map(of);
    const [place, towards, side] = ["place", "towards", "side"].map((name) => gl.getAttribLocation(whole, name));
    const faces = buffer(gl, model.faces);
    const lines = buffer(gl, model.lines);
    gl.useProgram(whole);
    gl.enable(gl.DEPTH_TEST);
    gl.enable(gl.POLYGON_OFFSET_FILL);
    gl.polygonOffset(1, 1);
    gl.clearColor(1, 1, 1, 1);

    function from(values, sided) {
      gl.bindBuffer(gl.ARRAY_BUFFER, values);
      for (const [slot, start] of [[place, 0], [towards, 12]]) {
        gl.enableVertexAttribArray(slot);
        gl.vertexAttribPointer(slot, 3, gl.FLOAT, false, sided ? 28 : 24, start);
      }
      gl.disableVertexAttribArray(side);
      gl.vertexAttrib1f(side, 0);
      if (!sided) return;
      gl.enableVertexAttribArray(side);
      gl.vertexAttribPointer(side, 1, gl.FLOAT, false, 28, 24);
    }

    return (looked, chosen) => {
      const dots = window.devicePixelRatio || 1;
      const [width, height] = [Math.round(canvas.clientWidth * dots), Math.round(canvas.clientHeight * dots)];
      if (!width || !height) return;
      if (canvas.width !== width) canvas.width = width;
      if (canvas.height !== height) canvas.height = height;
      gl.viewport(0, 0, width, height);
      gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
      const rows = axes(looked);
      const high = model.size.flat * Math.sin(FIRST.above) + model.size.up;
      const fit = 0.46 * looked.zoom * Math.min(width / model.size.flat, height / high);
      gl.uniformMatrix3fv(view, false, [0, 1, 2].flatMap((k) => rows.map((row) => row[k])));
      gl.uniform2f(scale, (2 * fit) / width, (2 * fit) / height);
      const shown = model.parts.map((_, i) => chosen < 0 || i === chosen);
      gl.uniform2f(size, width, height);
      gl.uniform1f(wide, LINE * dots);
      from(faces, false);
      model.parts.forEach((part, i) => {
        if (!shown[i]) return;
        gl.uniform3fv(colour, chosen < 0 ? part.colour : CHOSEN);
        gl.drawArrays(gl.TRIANGLES, part.first, part.count);
      });
      from(lines, true);
      model.parts.forEach((part, i) => {
        gl.uniform3fv(colour, shown[i] ? EDGE : BARE);
        if (part.lines) gl.drawArrays(gl.TRIANGLES, part.line, part.lines);
      });
    };
  }

  function words(view) {
    const turn = ((view.about / (Math.PI / 4)) % 8 + 8.5) % 8;
    const angle = Math.round((view.above * 180) / Math.PI);
    const height = angle === 0 ? "level with it" : `${Math.abs(angle)} degrees ${angle > 0 ? "above" : "below"}`;
    return `Seen from ${WAYS[Math.floor(turn)]}, ${height}.`;
  }

  function begin(figure) {
    const find = (choice) => figure.querySelector(choice);
    const [canvas, still, controls, other] = ["canvas", ".still", ".controls", "[data-does=still]"].map(find);
    const [select, seen] = ["select", ".seen"].map(find);
    const model = shapes(JSON.parse(find("script").textContent));
    if (!model.parts.length) return;
    const draw = painter(canvas, model);
    if (!draw) return;
    const view = { ...FIRST };
    let asked = false;

    function paint() {
      if (asked) return;
      asked = true;
      requestAnimationFrame(() => {
        asked = false;
        draw(view, Number(select.value));
      });
    }

    function show(turning) {
      canvas.hidden = !turning;
      controls.hidden = !turning;
      still.hidden = turning;
      other.hidden = false;
      other.textContent = turning ? "Show the still picture" : "Show the model that turns";
      if (turning) paint();
    }

    function turn(about, above, times = 1) {
      view.about += about;
      view.above = Math.min(RIGHT_ANGLE, Math.max(-RIGHT_ANGLE, view.above + above));
      view.zoom = Math.min(12, Math.max(0.3, view.zoom * times));
      paint();
    }

    function say() {
      seen.textContent = words(view);
    }

    const does = {
      left: () => turn(STEP, 0),
      right: () => turn(-STEP, 0),
      up: () => turn(0, -STEP),
      down: () => turn(0, STEP),
      nearer: () => turn(0, 0, 1.25),
      farther: () => turn(0, 0, 0.8),
      first: () => {
        Object.assign(view, FIRST);
        paint();
      },
    };
    const keys = {
      ArrowLeft: "left", ArrowRight: "right", ArrowUp: "up", ArrowDown: "down",
      "+": "nearer", "=": "nearer", "-": "farther", "0": "first",
    };

    canvas.addEventListener("keydown", (event) => {
      if (event.ctrlKey || event.metaKey || event.altKey || !Object.hasOwn(keys, event.key)) return;
      event.preventDefault();
      does[keys[event.key]]();
      say();
    });
    controls.addEventListener("click", (event) => {
      const asked_for = event.target.dataset.does;
      if (!asked_for) return;
      does[asked_for]();
      say();
    });
    other.addEventListener("click", () => show(canvas.hidden));
    select.addEventListener("change", paint);
    dragged(canvas, turn, say);
    canvas.addEventListener("webglcontextlost", () => {
      show(false);
      other.hidden = true;
    });
    new ResizeObserver(paint).observe(canvas);
    show(true);
  }

  // One finger or the mouse turns, two fingers bring nearer and farther.
  function dragged(canvas, turn, say) {
    const held = new Map();
    canvas.addEventListener("pointerdown", (event) => {
      held.set(event.pointerId, [event.clientX, event.clientY]);
      canvas.setPointerCapture(event.pointerId);
    });
    canvas.addEventListener("pointermove", (event) => {
      const last = held.get(event.pointerId);
      if (!last) return;
      const before = apart(held);
      held.set(event.pointerId, [event.clientX, event.clientY]);
      if (held.size === 1) turn((last[0] - event.clientX) * 0.01, (event.clientY - last[1]) * 0.01);
      else if (before > 0) turn(0, 0, apart(held) / before);
    });
    for (const ended of ["pointerup", "pointercancel"]) {
      canvas.addEventListener(ended, (event) => {
        if (held.delete(event.pointerId)) say();
      });
    }
  }

  function apart(held) {
    const [a, b] = [...held.values()];
    return b ? Math.hypot(a[0] - b[0], a[1] - b[1]) : 0;
  }

  for (const figure of document.querySelectorAll(".turning")) begin(figure);
})();
