// The arithmetic of rubrail.answers.affine_read once more: multiply, add, take the least. A test holds the two together.
"use strict";

(() => {
  const [OVER, NOT_KNOWN, DEPENDS, CLEAR, NOT_APPLICABLE] = [0, 1, 2, 3, 4];
  const WORDS = ["over", "not known", "depends", "clear", "does not apply"];
  const DUTY_WORDS = ["applies", "not known", "may apply", "not reached", "does not apply"];

  // A plane is [value at the reference, what an inch of each piece adds ...]; null is not known.
  function value(plane, offset) {
    if (plane[0] === null) return NaN;
    let total = plane[0];
    for (let i = 0; i < offset.length; i++) total += plane[i + 1] * offset[i];
    return total;
  }

  // What tolerances take together.
  function lost(losses, offset) {
    let total = losses.fixed;
    for (const plane of losses.even) total += Math.abs(value(plane, offset));
    for (const [up, down] of losses.odd) {
      total += Math.max(0, up === null ? 0 : value(up, offset), down === null ? 0 : value(down, offset));
    }
    return total;
  }

  function counts(part, member, front) {
    const ahead = part.after;
    if (ahead === null) return true;
    return front[ahead] < front[member] || (front[ahead] === front[member] && ahead < member);
  }

  // A row whose margin is the least of several straight parts; open where none counts.
  function leastAt(row, offset, front) {
    const parts = row.parts.filter((part) => counts(part, row.member, front));
    if (!parts.length) return { demand: 0, limit: Infinity, margin: Infinity, worst: Infinity };
    let demand = NaN, limit = NaN, margin = Infinity;
    for (const part of parts) {
      const needed = value(part.demand, offset), there = value(part.limit, offset);
      if (there - needed < margin || Number.isNaN(demand)) [demand, limit, margin] = [needed, there, there - needed];
    }
    let worst = margin - row.fixed;
    for (let k = 0; k < parts[0].nudged.length; k++) {
      let loss = 0;
      for (const side of [0, 1]) {
        let nudged = Infinity;
        for (const part of parts) {
          const plane = part.nudged[k][side];
          if (plane !== null) nudged = Math.min(nudged, value(plane, offset));
        }
        loss = Math.max(loss, margin - nudged);
      }
      worst -= loss;
    }
    return { demand, limit, margin, worst };
  }

  function shareOf(row, demand, limit, margin) {
    if (limit === Infinity || (row.unit === "" && margin >= 0)) return Infinity;
    const scale = Math.abs(row.by === "demand" ? demand : limit);
    if (scale === 0) return margin >= 0 ? Infinity : margin < 0 ? -Infinity : NaN;
    return margin / scale;
  }

  function codeOf(margin, worst, limit, tolerance) {
    if (limit === Infinity) return NOT_APPLICABLE;
    if (Number.isNaN(margin) || Number.isNaN(worst)) return NOT_KNOWN;
    const slack = tolerance * Math.max(1, Math.abs(limit));
    if (margin < -slack) return OVER;
    return worst >= -slack ? CLEAR : DEPENDS;
  }

  function answered(row) {
    const open = row.code === NOT_KNOWN ? NaN : Infinity;
    const bare = row.code === OVER ? -Infinity : open;
    return {
      demand: row.demand ?? NaN,
      limit: row.limit ?? open,
      margin: row.margin ?? open,
      worst: row.worst ?? open,
      share: row.share ?? bare,
      code: row.code,
    };
  }

  function rowAt(row, offset, front, tolerance) {
    if (row.form === "steady" || row.form === "asked") return answered(row);
    let now;
    if (row.form === "least") {
      now = leastAt(row, offset, front);
    } else {
      const demand = value(row.demand, offset), limit = value(row.limit, offset), margin = limit - demand;
      now = { demand, limit, margin, worst: row.unknown ? NaN : margin - lost(row.losses, offset) };
    }
    now.share = shareOf(row, now.demand, now.limit, now.margin);
    now.code = codeOf(now.margin, now.worst, now.limit, tolerance);
    return now;
  }

  // Worst of ratings, law and fit; guidance that fails or is not known makes it depend at best.
  function verdictOf(rows, at) {
    let must = CLEAR, advised = NOT_APPLICABLE;
    rows.forEach((row, i) => {
      if (row.binds) must = Math.min(must, at[i].code);
      else if (row.kind === "guidance") advised = Math.min(advised, at[i].code);
    });
    return advised > NOT_KNOWN ? must : Math.min(must, DEPENDS);
  }

  // The row that decides; of alike axles the first.
  function governingOf(rows, at, verdict) {
    const byAdvice = verdict === DEPENDS && !rows.some((row, i) => row.binds && at[i].code <= DEPENDS);
    let best = Infinity, found = -1;
    rows.forEach((row, i) => {
      const code = at[i].code;
      const stands = byAdvice ? row.kind === "guidance" && code <= NOT_KNOWN : row.binds && code < NOT_APPLICABLE;
      if (!stands) return;
      let share = Infinity;
      if (row.feels || code !== CLEAR) share = Number.isNaN(at[i].share) ? 0 : at[i].share;
      const rank = code + 0.49 * Math.tanh(share);
      if (rank < best - 1e-9) [best, found] = [rank, i];
    });
    return found;
  }

  // Every row and load with the pieces at these places. asked: rows that are not straight and were answered elsewhere.
  function read(data, front) {
    const offset = front.map((x, i) => x - data.reference[i]);
    const rows = data.rows.map((row) => rowAt(row, offset, front, data.tolerance));
    const loads = data.loads.map((load) => {
      const now = value(load.value, offset);
      return { value: now, spread: Number.isNaN(now) ? NaN : lost(load.losses, offset) };
    });
    const verdict = verdictOf(data.rows, rows);
    const there = (row) => (row.at ?? data.reference).every((x, i) => Math.abs(x - front[i]) < 5e-4);
    const asked = data.rows.filter((row) => row.form === "asked" && !there(row));
    return { rows, loads, verdict, governing: governingOf(data.rows, rows, verdict), asked };
  }

  globalThis.rubrailBench = {
    OVER, NOT_KNOWN, DEPENDS, CLEAR, NOT_APPLICABLE, WORDS, DUTY_WORDS, value, lost, leastAt, read,
  };
})();
