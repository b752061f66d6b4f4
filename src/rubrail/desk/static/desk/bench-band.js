// Where one piece may stand while the others stay: rubrail.answers.affine_band once more.
"use strict";

(() => {
  const bench = globalThis.rubrailBench;
  const APART_IN = 1e-6;

  const less = (one, other) => (one && other ? [one[0] - other[0], one[1] - other[1]] : null);

  // Where any two of the lines meet.
  function roots(lines) {
    const known = lines.filter(Boolean), out = [];
    for (let i = 0; i < known.length; i++) {
      for (let j = i + 1; j < known.length; j++) {
        const slope = known[j][1] - known[i][1];
        if (slope !== 0) out.push((known[i][0] - known[j][0]) / slope);
      }
    }
    return out;
  }

  // Rows as functions of one piece's front, between two neighbors.
  function along(data, front, piece, inside) {
    const order = front.with(piece, inside);
    const base = front.map((x, i) => x - data.reference[i]);
    const at = (t) => base.with(piece, t - data.reference[piece]);
    const line = (plane) => (!plane || plane[0] === null ? null : [bench.value(plane, at(0)), plane[piece + 1] ?? 0]);

    function knots(row) {
      if (row.form === "straight") {
        const zero = [0, 0];
        return [
          ...row.losses.even.flatMap((plane) => roots([line(plane), zero])),
          ...row.losses.odd.flatMap(([up, down]) => roots([line(up), line(down), zero])),
        ];
      }
      const margins = row.parts.map((part) => less(line(part.limit), line(part.demand)));
      const out = roots(margins);
      for (let k = 0; k < (row.parts.length ? row.parts[0].nudged.length : 0); k++) {
        out.push(...roots([...margins, ...row.parts.flatMap((part) => part.nudged[k].map(line))]));
      }
      return out;
    }

    function told(row, t) {
      const offset = at(t);
      let limit, margin, worst;
      if (row.form === "least") {
        ({ limit, margin, worst } = bench.leastAt(row, offset, order));
      } else {
        limit = bench.value(row.limit, offset);
        margin = limit - bench.value(row.demand, offset);
        worst = row.unknown ? NaN : margin - bench.lost(row.losses, offset);
      }
      const slack = Number.isFinite(limit) ? data.tolerance * Math.max(1, Math.abs(limit)) : 0;
      return [margin + slack, worst + slack];
    }

    return function changes(row, a, b) {
      const ends = [...new Set([a, b, ...knots(row).filter((t) => a < t && t < b)])].sort((s, t) => s - t);
      const values = ends.map((t) => told(row, t)), out = ends.slice(1, -1);
      for (let i = 0; i + 1 < ends.length; i++) {
        for (const which of [0, 1]) {
          const one = values[i][which], other = values[i + 1][which];
          if (Number.isFinite(one) && Number.isFinite(other) && one < 0 !== other < 0) {
            out.push(ends[i] + ((ends[i + 1] - ends[i]) * one) / (one - other));
          }
        }
      }
      return out;
    };
  }

  // Stretches {low, high, code} joined end to end between two fronts; null where a row has to be asked for.
  function stretches(data, front, piece, low, high) {
    const moving = data.rows.filter((row) => row.form !== "steady");
    if (moving.some((row) => row.form === "asked")) return null;
    const others = front.filter((x, i) => i !== piece && low < x && x < high);
    const ends = [...new Set([low, high, ...others])].sort((s, t) => s - t);
    const cuts = [...ends];
    for (let i = 0; i + 1 < ends.length; i++) {
      const changes = along(data, front, piece, (ends[i] + ends[i + 1]) / 2);
      for (const row of moving) {
        cuts.push(...changes(row, ends[i], ends[i + 1]).filter((t) => ends[i] < t && t < ends[i + 1]));
      }
    }
    cuts.sort((s, t) => s - t);
    const apart = cuts.filter((t, i) => i === 0 || t - cuts[i - 1] > APART_IN);
    const out = [];
    for (let i = 0; i + 1 < apart.length; i++) {
      const code = bench.read(data, front.with(piece, (apart[i] + apart[i + 1]) / 2)).verdict;
      const last = out.at(-1);
      if (last && last.code === code) last.high = apart[i + 1];
      else out.push({ low: apart[i], high: apart[i + 1], code });
    }
    return out;
  }

  // Stretches in which the verdict is at least a code, neighbors joined.
  function atLeast(found, code) {
    const out = [];
    for (const s of found ?? []) {
      if (s.code < code) continue;
      const last = out.at(-1);
      if (last && Math.abs(last.high - s.low) < 1e-9) last.high = s.high;
      else out.push({ low: s.low, high: s.high });
    }
    return out;
  }

  Object.assign(bench, { stretches, atLeast });
})();
