/** The script of the practice sheet, put together from page/ by `npm run page-script`: change it there. */
export const PAGE_SCRIPT = `"use strict";
(() => {
  function createKeys(song2) {
    const loaded2 = /* @__PURE__ */ new Map();
    return {
      load: (index) => {
        const known = loaded2.get(index);
        if (known !== void 0) return known;
        const loading = unpack(\`key\${song2.keys[index].semitones}\`);
        loaded2.set(index, loading);
        return loading;
      }
    };
  }
  async function unpack(id) {
    const bytes = bytesIn(id);
    const plain = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
    return await new Response(plain).json();
  }
  function bytesIn(id) {
    const text = atob(document.getElementById(id).textContent.trim());
    return Uint8Array.from(text, (letter) => letter.charCodeAt(0));
  }
  var UNITS_PER_EM = 1e3;
  function rowStarts(widths, room) {
    const most = greedy(widths, room);
    let [low, high] = [0, Math.max(...room)];
    let best = most;
    for (let round = 0; round < 10; round++) {
      const limit = (low + high) / 2;
      const less = room[1] - limit;
      const tried = greedy(widths, [room[0] - less, limit]);
      if (tried.length <= most.length) {
        best = tried;
        high = limit;
      } else low = limit;
    }
    return best;
  }
  function greedy(widths, [first, later]) {
    const starts = [0];
    let used = 0;
    widths.forEach((width, i) => {
      const room = starts.length === 1 ? first : later;
      if (used > 0 && used + width > room) {
        starts.push(i);
        used = 0;
      }
      used += width;
    });
    return starts;
  }
  var LEAST_SCALE = 0.88;
  function rowsOf(frame, line, withTime, most) {
    const before = frame.clef.width;
    const first = before + (withTime ? frame.time.width : 0);
    const widths = line.bars.map(({ width }) => width);
    const startsIn = (room) => rowStarts(widths, [room - first, room - before]);
    const [usual, smaller] = [startsIn(most), startsIn(most / LEAST_SCALE)];
    const starts = smaller.length < usual.length ? smaller : usual;
    const rows = starts.map((start2, i) => [
      frame.clef,
      ...withTime && i === 0 ? [frame.time] : [],
      ...line.bars.slice(start2, starts[i + 1] ?? line.bars.length)
    ]);
    const widest = Math.max(...rows.map((row) => row.reduce((sum, { width }) => sum + width, 0)));
    const scale = Math.min(1, most / widest);
    return rows.map((pieces) => rowSvg(frame, line, pieces, scale));
  }
  function rowSvg({ staff, lineWidth }, { top, bottom }, pieces, scale) {
    const height = bottom - top;
    let at = 0;
    const parts = pieces.map(({ x, width, art, words }) => {
      const left = at;
      at += width;
      const cut = \`<svg x="\${left}" y="\${top}" width="\${width}" height="\${height}" viewBox="\${x} \${top} \${width} \${height}">\${art}</svg>\`;
      return words === "" ? cut : \`\${cut}<g transform="translate(\${left - x})">\${words}</g>\`;
    });
    const lines = \`<path d="\${staff.map((y) => \`M0 \${y}H\${at}\`).join("")}" stroke-width="\${lineWidth}"/>\`;
    const em = (units) => \`\${Math.round(scale * units) / UNITS_PER_EM}em\`;
    return \`<svg class="row" width="\${em(at)}" height="\${em(height)}" viewBox="0 \${top} \${at} \${height}" aria-hidden="true" focusable="false">\${lines}\${parts.join("")}</svg>\`;
  }
  var WIDEST = 18e3;
  var SAME = 150;
  function createNotation(song2) {
    const staffs = [...document.querySelectorAll(".staff")];
    let drawnFor = WIDEST;
    const room = () => {
      const [first] = staffs;
      if (first === void 0) return WIDEST;
      const em = Number.parseFloat(getComputedStyle(first).fontSize);
      return Math.min(WIDEST, Math.floor(first.clientWidth / em * 1e3));
    };
    const draw = ({ drawing, words, scales }, width) => {
      drawnFor = width;
      staffs.forEach((staff, i) => {
        const line = staff.closest(".line");
        const said = words[i];
        staff.innerHTML = rowsOf(drawing.frame, drawing.lines[i], i === 0, width).join("");
        staff.setAttribute("aria-label", said.alternative);
        line.querySelector(".hand").textContent = said.hand;
        const doubts = line.querySelector(".doubts");
        doubts.innerHTML = said.doubts;
        doubts.hidden = said.doubts === "";
      });
      document.getElementById("scales").innerHTML = scales;
    };
    const fit = (inKey2) => {
      const width = room();
      if (Math.abs(width - drawnFor) >= SAME) draw(inKey2, width);
    };
    return {
      show: (inKey2) => draw(inKey2, room()),
      fit,
      fits: () => Math.abs(room() - drawnFor) < SAME,
      print: (inKey2) => {
        if (drawnFor !== WIDEST && song2.lines.length > 0) draw(inKey2, WIDEST);
      }
    };
  }
  var TAIL_SECONDS = 0.6;
  var LEAD_SECONDS = 0.15;
  function passOf(song2, line, countIn) {
    const from = song2.lines[Math.max(line, 1) - 1];
    const last = (line === 0 ? song2.lines.at(-1) : from).last;
    const count = countIn ? song2.counts?.[Math.max(line, 1) - 1] ?? null : null;
    return {
      first: from.first,
      last,
      start: song2.times[from.first - 1][0],
      end: song2.times[last - 1][1] + TAIL_SECONDS,
      clicks: count === null ? [] : clicksOf(count)
    };
  }
  function clicksOf({ clicks, beatSeconds, lastClickSeconds, beatsPerBar }) {
    return Array.from({ length: clicks }, (_, i) => ({
      before: lastClickSeconds + (clicks - 1 - i) * beatSeconds,
      isFirst: i % beatsPerBar === 0
    }));
  }
  function noteAt(times, { first, last }, seconds) {
    for (let number = first; number <= last; number++) {
      const [start2, end] = times[number - 1];
      if (seconds < start2) return 0;
      if (seconds < end) return number;
    }
    return 0;
  }
  var MOST_PARTIALS = 14;
  var HIGHEST_HZ = 9e3;
  var STRIKE = 1 / 8;
  var STIFFNESS = 4e-4;
  var STIFFNESS_DOUBLES = 8;
  var DECAY = 1.5;
  var DECAY_HALVES = 20;
  var LONGEST = 4;
  var ATTACK_SECONDS = 4e-3;
  var RELEASE_SECONDS = 0.12;
  var PEAK = 0.45;
  function createPiano(context, out) {
    const strings = /* @__PURE__ */ new Map();
    const sounding = /* @__PURE__ */ new Set();
    const start2 = (source, gain, at, until) => {
      source.connect(gain).connect(out);
      source.start(at);
      source.stop(until);
      sounding.add(source);
      source.onended = () => {
        sounding.delete(source);
        gain.disconnect();
      };
    };
    return {
      strike: (midi, at, until) => {
        const buffer = strings.get(midi) ?? string(context, midi);
        strings.set(midi, buffer);
        const source = new AudioBufferSourceNode(context, { buffer });
        const gain = new GainNode(context);
        gain.gain.setValueAtTime(1, Math.max(at, until - RELEASE_SECONDS / 2));
        gain.gain.linearRampToValueAtTime(0, until + RELEASE_SECONDS / 2);
        start2(source, gain, at, until + RELEASE_SECONDS);
      },
      knock: (at, isFirst) => {
        const source = new OscillatorNode(context, { type: "triangle", frequency: isFirst ? 1600 : 1100 });
        const gain = new GainNode(context, { gain: 0 });
        gain.gain.setValueAtTime(0, at);
        gain.gain.linearRampToValueAtTime(0.2, at + 2e-3);
        gain.gain.exponentialRampToValueAtTime(1e-3, at + 0.06);
        start2(source, gain, at, at + 0.08);
      },
      silence: () => {
        for (const source of sounding) source.stop();
        sounding.clear();
      }
    };
  }
  function string(context, midi) {
    const rate = context.sampleRate;
    const decay = DECAY * 2 ** ((60 - midi) / DECAY_HALVES);
    const length = Math.ceil(rate * Math.min(LONGEST, 4 * decay));
    const samples = new Float32Array(length);
    const base = 440 * 2 ** ((midi - 69) / 12);
    const stiffness = STIFFNESS * 2 ** ((midi - 60) / STIFFNESS_DOUBLES);
    for (let k = 1; k <= MOST_PARTIALS; k++) {
      const hz = k * base * Math.sqrt(1 + stiffness * k * k);
      if (hz > Math.min(HIGHEST_HZ, rate / 2)) break;
      const level = Math.abs(Math.sin(Math.PI * k * STRIKE)) / k ** 1.4;
      const turn = 2 * Math.PI * hz / rate;
      const shrink = Math.exp(-(0.7 + 0.3 * k) / (decay * rate));
      let [re, im] = [0, level];
      const [c, s] = [shrink * Math.cos(turn), shrink * Math.sin(turn)];
      for (let i = 0; i < length; i++) {
        samples[i] += re;
        [re, im] = [re * c + im * s, im * c - re * s];
      }
    }
    const peak = samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
    const attack = Math.ceil(ATTACK_SECONDS * rate);
    for (let i = 0; i < length; i++) samples[i] *= PEAK / peak * Math.min(1, i / attack);
    const buffer = new AudioBuffer({ length, sampleRate: rate });
    buffer.copyToChannel(samples, 0);
    return buffer;
  }
  var AHEAD_SECONDS = 0.4;
  var TURN_MILLISECONDS = 40;
  function createPlayer(song2, wishes2, midis, recording2, sounding, ended) {
    let audio = null;
    let running = null;
    let timer = 0;
    const open = () => {
      if (audio !== null) return audio;
      const context = new AudioContext();
      const master = new GainNode(context, { gain: 0 });
      master.connect(context.destination);
      audio = { context, master, piano: createPiano(context, master) };
      return audio;
    };
    const songTime = (now, { audioStart, songStart, speed }) => songStart + (now - audioStart) * speed;
    const begin = (pass, from, withClicks) => {
      const { context, piano } = open();
      const { speed } = wishes2();
      const lead = withClicks ? (pass.clicks[0]?.before ?? 0) / speed : 0;
      const audioStart = context.currentTime + LEAD_SECONDS + lead;
      const first = song2.times.findIndex(([, end], i) => i + 1 >= pass.first && end > from) + 1;
      running = { pass, speed, audioStart, songStart: from, next: first };
      if (withClicks)
        for (const { before, isFirst } of pass.clicks) piano.knock(audioStart - before / speed, isFirst);
      startRecording(lead + LEAD_SECONDS, from, speed);
    };
    const startRecording = (afterSeconds, from, speed) => {
      if (recording2 === null || wishes2().sound === "piano") return;
      recording2.playbackRate = speed;
      recording2.volume = wishes2().volume;
      recording2.currentTime = Math.max(0, from - (song2.sound?.startSeconds ?? 0));
      const mine = running;
      setTimeout(() => {
        if (running === mine) void recording2.play();
      }, afterSeconds * 1e3);
    };
    const turn = () => {
      if (audio === null || running === null) return;
      const { context, piano } = audio;
      const { pass, audioStart, songStart, speed } = running;
      const at = (seconds) => audioStart + (seconds - songStart) / speed;
      while (running.next <= pass.last && at(song2.times[running.next - 1][0]) < context.currentTime + AHEAD_SECONDS) {
        const [start2, end] = song2.times[running.next - 1];
        if (wishes2().sound !== "recording") {
          piano.strike(midis()[running.next - 1], Math.max(at(start2), context.currentTime), at(end));
        }
        running.next++;
      }
      const now = songTime(context.currentTime, running);
      sounding(context.currentTime < audioStart ? 0 : noteAt(song2.times, pass, now));
      if (now < pass.end) return;
      recording2?.pause();
      if (wishes2().loop) begin(pass, pass.start, true);
      else stop();
    };
    const halt = () => {
      audio?.piano.silence();
      recording2?.pause();
      running = null;
      sounding(0);
    };
    const stop = () => {
      halt();
      clearInterval(timer);
      ended();
    };
    const fade = () => {
      if (audio === null) return;
      audio.master.gain.setTargetAtTime(wishes2().volume, audio.context.currentTime, 0.05);
      if (recording2 !== null) recording2.volume = wishes2().volume;
    };
    return {
      isPlaying: () => running !== null,
      play: () => {
        const { context } = open();
        void context.resume();
        fade();
        clearInterval(timer);
        halt();
        const { line, countIn } = wishes2();
        const pass = passOf(song2, line, countIn);
        begin(pass, pass.start, true);
        timer = window.setInterval(turn, TURN_MILLISECONDS);
      },
      stop,
      changed: () => {
        if (audio === null || running === null) return;
        fade();
        const { pass, speed } = running;
        if (speed === wishes2().speed) return;
        const now = Math.max(pass.start, songTime(audio.context.currentTime, running));
        audio.piano.silence();
        recording2?.pause();
        begin(pass, now, false);
      }
    };
  }
  function nextStep(lines, learnt) {
    const open = lines.map((_, i) => i + 1).filter((number) => !learnt.has(number));
    const [first] = open;
    if (first === void 0) {
      return {
        words: "Every line is learnt. Play the whole song without a stop, first slowly; then choose another key.",
        line: null
      };
    }
    if (learnt.size === 0) {
      return {
        words: \`Begin with line \${first}: listen to it, put the hand where it says, and play it slowly, in a loop.\`,
        line: first
      };
    }
    const known = open.find((number) => learnt.has(lines[number - 1].like ?? 0));
    if (known !== void 0) {
      return {
        words: \`Next: line \${known}. It is like line \${lines[known - 1].like}, which you know: listen for what differs.\`,
        line: known
      };
    }
    const joined = learnt.has(first - 1) ? \` Then play lines \${first - 1} and \${first} after each other.\` : "";
    return { words: \`Next: line \${first}.\${joined}\`, line: first };
  }
  function createStore(songId) {
    const name = \`cantilena-sheet-\${songId}\`;
    return {
      read: () => {
        try {
          const kept = JSON.parse(localStorage.getItem(name) ?? "[]");
          return new Set(Array.isArray(kept) ? kept.filter((n) => typeof n === "number") : []);
        } catch {
          return /* @__PURE__ */ new Set();
        }
      },
      write: (learnt) => {
        try {
          localStorage.setItem(name, JSON.stringify([...learnt].sort((a, b) => a - b)));
          return true;
        } catch {
          return false;
        }
      }
    };
  }
  function followProgress(song2) {
    const store = createStore(song2.id);
    const learnt = store.read();
    const ticks = [...document.querySelectorAll(".learnt")];
    const count = document.getElementById("learnt-count");
    const next = document.getElementById("next");
    const tell = (kept) => {
      const { words, line } = nextStep(song2.lines, learnt);
      count.textContent = \`\${learnt.size} of \${song2.lines.length} lines learnt.\`;
      next.replaceChildren(words);
      if (line !== null) {
        const link = document.createElement("a");
        link.href = \`#line-\${line}\`;
        link.textContent = \`Go to line \${line}\`;
        next.append(" ", link);
      }
      if (!kept) next.append(" This browser does not keep the ticks.");
    };
    for (const number of learnt) if (number > song2.lines.length) learnt.delete(number);
    for (const tick of ticks) {
      const number = Number(tick.dataset.line);
      const mark = () => tick.closest(".line").classList.toggle("done", tick.checked);
      tick.checked = learnt.has(number);
      mark();
      tick.addEventListener("change", () => {
        if (tick.checked) learnt.add(number);
        else learnt.delete(number);
        mark();
        tell(store.write(learnt));
      });
    }
    tell(true);
  }
  var song = JSON.parse(document.getElementById("song").textContent);
  var field = (id) => document.getElementById(id);
  var controls = {
    play: field("play"),
    line: field("line"),
    speed: field("speed"),
    speedShown: field("speed-shown"),
    loop: field("loop"),
    countIn: field("count-in"),
    volume: field("volume"),
    sound: document.getElementById("sound"),
    key: field("key"),
    names: field("names")
  };
  var own = song.keys.findIndex(({ semitones }) => semitones === 0);
  var keys = createKeys(song);
  var notation = createNotation(song);
  var inKey = null;
  var wishes = () => ({
    line: Number(controls.line.value),
    speed: Number(controls.speed.value) / 100,
    loop: controls.loop.checked,
    countIn: controls.countIn.checked,
    volume: Number(controls.volume.value) / 100,
    sound: controls.sound?.value ?? "piano"
  });
  var player = createPlayer(song, wishes, () => inKey.midis, recording(), markSounding, showPlaying);
  function recording() {
    if (song.sound === null) return null;
    const audio = new Audio(
      URL.createObjectURL(new Blob([bytesIn("recording")], { type: song.sound.mediaType }))
    );
    audio.preload = "auto";
    return audio;
  }
  var marked = 0;
  function markSounding(note) {
    if (note === marked) return;
    for (const part of document.querySelectorAll(".now")) part.classList.remove("now");
    marked = note;
    for (const part of document.querySelectorAll(\`[data-n="\${note}"]\`)) part.classList.add("now");
  }
  function showPlaying() {
    const playing = player.isPlaying();
    controls.play.textContent = playing ? "Stop" : "Play";
    const line = Number(controls.line.value);
    for (const button of document.querySelectorAll("button.play")) {
      const mine = Number(button.dataset.line) === line;
      button.textContent = playing && mine ? "Stop" : "Play";
      button.setAttribute("aria-label", \`\${button.textContent} line \${button.dataset.line}\`);
      button.closest(".line").classList.toggle("chosen", mine);
    }
  }
  async function loaded() {
    inKey ??= await keys.load(own);
    return inKey;
  }
  async function start() {
    await loaded();
    player.play();
    showPlaying();
  }
  function toggle() {
    if (player.isPlaying()) player.stop();
    else void start();
  }
  function choose(line) {
    const playing = player.isPlaying();
    controls.line.value = String(line);
    document.getElementById(line === 0 ? "lines" : \`line-\${line}\`)?.scrollIntoView({ block: "nearest" });
    if (playing) void start();
    showPlaying();
  }
  controls.play.addEventListener("click", toggle);
  controls.line.addEventListener("change", () => choose(Number(controls.line.value)));
  for (const button of document.querySelectorAll("button.play")) {
    button.addEventListener("click", () => {
      const same = controls.line.value === button.dataset.line;
      controls.line.value = button.dataset.line;
      if (same) toggle();
      else void start();
    });
  }
  controls.speed.addEventListener("input", () => {
    controls.speedShown.textContent = \`\${controls.speed.value} %\`;
    player.changed();
  });
  controls.volume.addEventListener("input", player.changed);
  controls.sound?.addEventListener("change", () => player.isPlaying() && void start());
  controls.names.addEventListener("change", () => {
    document.body.classList.toggle("no-names", !controls.names.checked);
  });
  controls.key.addEventListener("change", async () => {
    const index = Number(controls.key.value);
    inKey = await keys.load(index);
    field("key-name").textContent = song.keys[index].name;
    notation.show(inKey);
    markSounding(0);
    if (controls.sound !== null) {
      controls.sound.disabled = index !== own;
      if (index !== own) controls.sound.value = "piano";
    }
    if (player.isPlaying()) void start();
  });
  document.addEventListener("keydown", (event) => {
    const target = event.target;
    if (controls.play.disabled || event.ctrlKey || event.altKey || event.metaKey || target.closest("button, input, select, summary, a"))
      return;
    const step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
    if (event.key === " ") toggle();
    else if (step !== void 0)
      choose(Math.min(song.lines.length, Math.max(0, Number(controls.line.value) + step)));
    else return;
    event.preventDefault();
  });
  var refit = () => {
    if (!controls.play.disabled && !notation.fits()) void loaded().then(notation.fit);
  };
  addEventListener("resize", refit);
  addEventListener("beforeprint", () => inKey !== null && notation.print(inKey));
  addEventListener("afterprint", refit);
  followProgress(song);
  showPlaying();
  if ("DecompressionStream" in globalThis) refit();
  else {
    field("cannot-play").hidden = false;
    for (const control of document.querySelectorAll("#key, button")) control.disabled = true;
  }
  document.documentElement.classList.add("ready");
})();
`;
