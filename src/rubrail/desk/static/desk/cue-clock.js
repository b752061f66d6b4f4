// Words and seconds of a take, by the rule the desk goes by: a number counts a word for each digit that is not 0.
"use strict";

const cueClock = {
  PAUSE_S: 2,

  words(text) {
    let count = 0;
    for (const token of text.split(/\s+/).filter(Boolean)) {
      const numbers = token.match(/\d[\d,.]*/g) || [];
      for (const number of numbers) {
        const whole = number.split(".")[0].replaceAll(",", "");
        count += Math.max([...number].filter((c) => !"0,.".includes(c)).length, 1) + (whole.length > 3 ? 1 : 0);
      }
      if (!numbers.length || /[A-Za-z]/.test(token)) count += 1;
    }
    return count;
  },

  said(seconds) {
    const whole = Math.round(seconds);
    return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")}`;
  },

  // Where each station begins and how long it lasts, one after the other with a pause between.
  plan(texts, pace) {
    let start = 0;
    return texts.map((text) => {
      const long = (cueClock.words(text) * 60) / pace;
      const station = { start, long };
      start += long + cueClock.PAUSE_S;
      return station;
    });
  },
};
