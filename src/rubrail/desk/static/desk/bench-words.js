// Numbers and sentences in the words of rubrail.sheets, for what the page reckons itself.
"use strict";

(() => {
  const bench = globalThis.rubrailBench;
  const MINUS = "\u2212";
  const DECIMALS = { lb: 0, in: 1, ft: 1, psi: 0, "": 2, "%": 1, deg: 1 };
  const METRIC = {
    lb: ["kg", 0, 0.45359237],
    in: ["mm", 0, 25.4],
    ft: ["m", 2, 0.3048],
    psi: ["kPa", 0, 6.894757293168],
    "lb/in": ["N/mm", 1, 0.1751268370],
    "lb/ft": ["kg/m", 1, 1.4881639436],
  };

  // Ties go to the even digit, as Python rounds.
  function rounded(number, places) {
    const shifted = number * 10 ** places, exact = number * 2 ** (places + 1);
    if (Number.isInteger(exact) && Math.abs(shifted % 1) === 0.5) {
      return (2 * Math.round(shifted / 2)) / 10 ** places;
    }
    return Number(number.toFixed(places));
  }

  function digits(number, places) {
    const [whole, part] = Math.abs(rounded(number, places)).toFixed(places).split(".");
    const grouped = whole.replace(/\B(?=(\d{3})+$)/g, ",");
    const rest = (part ?? "").replace(/0+$/, "");
    const text = rest ? `${grouped}.${rest}` : grouped;
    return rounded(number, places) < 0 ? `-${text}` : text;
  }

  function show(number, unit, metric, decimals) {
    if (Number.isNaN(number)) return "not known";
    if (!Number.isFinite(number)) return number > 0 ? "no limit" : "-no limit";
    let places = decimals ?? 2;
    if (unit === "rad") {
      number = (number * 180) / Math.PI;
      return `${digits(number, decimals ?? 1)}\u00b0`;
    }
    if (metric && unit in METRIC) {
      const [target, own, size] = METRIC[unit];
      number *= size;
      unit = target;
      places = decimals ?? own;
      if (target === "mm" && Math.abs(number) >= 1000) {
        number /= 1000;
        unit = "m";
        places = decimals ?? 3;
      }
    }
    return `${digits(number, places)} ${unit}`.trimEnd();
  }

  // Whole pounds, tenths of an inch; what would round to nothing keeps the decimals it needs.
  function amount(value, unit, metric) {
    let text = show(value, unit, metric, metric && unit in METRIC ? undefined : (DECIMALS[unit] ?? 2));
    for (let n = 1; Math.abs(value) > 1e-6 && Number.isFinite(value) && !/[1-9]/.test(text.split(" ")[0]) && n <= 6; n++) {
      text = show(value, unit, metric, n);
    }
    return text.startsWith("-") ? text.replace("-", MINUS) : text;
  }

  // A place as a tape reads it.
  function feet(inches, metric) {
    if (!Number.isFinite(inches) || metric || Math.abs(inches) < 24) return amount(inches, "in", metric);
    const whole = Math.abs(rounded(inches, 0)), ft = Math.floor(whole / 12), rest = whole % 12;
    return `${inches < 0 ? MINUS : ""}${ft} ft${rest ? ` ${rest} in` : ""}`;
  }

  const yesOrNo = (row, now) => row.unit === "" && [0, 1].includes(now.demand) && [0, 1].includes(now.limit);

  function spare(row, now, metric) {
    if (yesOrNo(row, now) || !Number.isFinite(now.margin)) return "";
    if (now.margin < 0 && now.code === bench.OVER) return `${amount(-now.margin, row.unit, metric)} past the limit`;
    const left = amount(Math.max(now.margin, 0), row.unit, metric);
    return left.split(" ")[0] === "0" ? "nothing to spare" : `${left} to spare`;
  }

  function closest(row, now, metric) {
    const left = spare(row, now, metric);
    return left ? `${row.name}, ${left}` : row.name;
  }

  // What a row leaves, for its line.
  function left(row, now, metric) {
    const told = row.kind === "duty" || row.kind === "tax";
    if (told || now.code === bench.NOT_APPLICABLE) return (told ? bench.DUTY_WORDS : bench.WORDS)[now.code];
    if (now.code === bench.NOT_KNOWN) return "not known";
    if (yesOrNo(row, now) || !Number.isFinite(now.margin)) return now.code === bench.OVER ? "does not hold" : "holds";
    return spare(row, now, metric);
  }

  function whyNot(row, now, more, metric) {
    let text;
    if (yesOrNo(row, now) || !Number.isFinite(now.margin)) text = `${row.name}, which does not hold`;
    else text = `${row.name}, ${amount(-now.margin, row.unit, metric)} past the limit`;
    return more ? `${text}, and ${more} more` : text;
  }

  function guidance(row, now, metric) {
    const left = spare(row, now, metric);
    if (now.code === bench.OVER) {
      return [`but against guidance, which is not law: ${row.name}${left ? `, ${left}` : ""}. ${row.says}`, true];
    }
    if (now.code === bench.NOT_KNOWN) {
      return [`but whether it meets guidance, which is not law, is not known: ${row.name}; ${row.ask}.`, true];
    }
    return [`and close to guidance, which is not law: ${row.name}${left ? `, ${left}` : ""}.`, false];
  }

  // The first sentence of the page, and whether it is whole: what would settle a doubt only the desk can say.
  function sentence(data, state) {
    const { metric } = data, i = state.governing;
    const row = data.rows[i], now = state.rows[i];
    if (state.verdict === bench.CLEAR) {
      if (!row) return [`Clear as far as described: no rating, law or fit check applies where ${data.carries}.`, true];
      if (!spare(row, now, metric)) return [`Clear: ${data.carries}; every limit holds.`, true];
      return [`Clear: ${data.carries}; closest limit: ${closest(row, now, metric)}.`, true];
    }
    if (state.verdict === bench.NOT_KNOWN) return [row.unknown, true];
    if (state.verdict === bench.OVER) {
      const over = data.rows.filter((r, n) => r.binds && state.rows[n].code === bench.OVER).length;
      return [`Over: ${data.refused}; in the way: ${whyNot(row, now, over - 1, metric)}.`, true];
    }
    if (!row) return [`Depends: ${data.carries} at the stated values.`, false];
    if (row.kind === "guidance") {
      const [words, whole] = guidance(row, now, metric);
      return [`Depends: ${data.carries} within every rating and law, ${words}`, whole];
    }
    const left = spare(row, now, metric);
    const doubt = left ? `${left}, and the doubt in the numbers is larger` : "the numbers leave it in doubt";
    return [`Depends: ${data.carries} at the stated values, but ${row.name} is in doubt: ${doubt}.`, false];
  }

  const begin = (text) => text.charAt(0).toUpperCase() + text.slice(1);

  Object.assign(bench, { amount, feet, rounded, spare, closest, left, yesOrNo, sentence, begin });
})();
