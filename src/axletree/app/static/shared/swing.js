// What does an axis do when its lock is opened? A pendulum with the moment, inertia, gravity and
// friction that come from the machine; only the motion is worked out here, step by step.

// `angle` in radians from the level, positive where the lever's end rises. Gives the next state.
/**
 * @typedef {{ angle: number, speed: number, rests?: boolean }} Swing radians, radians per second
 * @typedef {{ along_kg_m: number, across_kg_m: number, inertia_kg_m2: number, gravity_m_s2: number }} Freed
 */
/** @type {(swing: Swing, freed: Freed, frictionNm: number, seconds: number) => Swing} */
export function step({ angle, speed }, freed, friction, seconds) {
  const moment = Math.hypot(freed.along_kg_m, freed.across_kg_m),
    lean = Math.atan2(freed.across_kg_m, freed.along_kg_m);
  const n = Math.max(1, Math.ceil(seconds / 0.004)),
    dt = seconds / n;
  for (let i = 0; i < n; i += 1) {
    const pull = -freed.gravity_m_s2 * moment * Math.cos(lean + angle);
    if (Math.abs(speed) < 1e-4 && Math.abs(pull) <= friction) return { angle, speed: 0, rests: true };
    const drag = speed === 0 ? 0 : -Math.sign(speed) * friction;
    const next = speed + ((pull + drag) / freed.inertia_kg_m2) * dt;
    // Friction stops a motion, it never turns one round.
    speed = speed !== 0 && Math.sign(next) !== Math.sign(speed) && Math.abs(pull) <= friction ? 0 : next;
    angle += speed * dt;
  }
  return { angle, speed, rests: false };
}

// Lets it go: `show(radians)` at every frame until it rests. Gives a function that stops it.
/** @type {(freed: Freed, frictionNm: number, show: (angle: number) => void, done: (angle: number) => void, quick?: boolean) => () => void} */
export function letGo(freed, friction, show, done, quick = false) {
  /** @type {Swing} */
  let state = { angle: 0, speed: 0 };
  let last = performance.now(),
    frame = 0;
  if (quick) {
    for (let t = 0; t < 60 && !state.rests; t += 0.05) state = step(state, freed, friction, 0.05);
    show(state.angle);
    done(state.angle);
    return () => {};
  }
  const run = (time) => {
    state = step(state, freed, friction, Math.min(0.05, (time - last) / 1000));
    last = time;
    show(state.angle);
    if (state.rests) done(state.angle);
    else frame = requestAnimationFrame(run);
  };
  frame = requestAnimationFrame(run);
  return () => cancelAnimationFrame(frame);
}
