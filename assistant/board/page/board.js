"use strict";
// Shows the picture that the engine's side sends, and sends what is pressed. Decides nothing.
const LOST_AFTER_MS = 2000, AGAIN_MS = 800, TOP = 10, HIGH = 300;
const LONGEST_HEARD = 40; // characters beside the buttons; the near page has all of them
const asked = new URLSearchParams(location.search);
let key = asked.get("key") || sessionStorage.getItem("key") || "";
let heardAt = Date.now(), picture = null;
const by = (id) => document.getElementById(id);
const LEVELS = [[0, "out of sight"], [1 / 8, "one eighth"], [1 / 4, "a quarter"],
  [1 / 3, "one third"], [3 / 8, "three eighths"], [1 / 2, "half"], [5 / 8, "five eighths"],
  [2 / 3, "two thirds"], [3 / 4, "three quarters"], [7 / 8, "seven eighths"], [1, "full"]];
const CHOICES = [
  ["Water", () => pick("water")], ["Pressure", () => pick("pressure")],
  ["Feed", () => chooseOther(FEED)], ["Coal on", "coal on the fire"],
  ["Draught", () => chooseOther(DRAUGHT)], ["Valve", () => chooseOther(VALVE)],
  ["What next", "what next"], ["Trouble", () => chooseOther(TROUBLES)],
];
const FEED = [
  ["Feed on", "the feed is running"], ["Feed off", "finished feeding"],
  ["Bypass open", "bypass open"], ["Bypass shut", "bypass shut"],
  ["Back", () => chooseOther(CHOICES)],
];
const DRAUGHT = [
  ["Damper open", "damper open"], ["Damper shut", "damper shut"],
  ["Blower half", "blower half open"], ["Blower shut", "blower shut"],
  ["Regulator open", "regulator open"],
  ["Regulator shut", "regulator shut"], ["Back", () => chooseOther(CHOICES)],
];
const VALVE = [
  ["Valve feathers", "valve is feathering"], ["Valve lifts", "safety valve lifting"],
  ["Valve shut", "safety valve shut"], ["Back", () => chooseOther(CHOICES)],
];
const TROUBLES = [
  ["No water in sight", "no water in sight"], ["Steam escapes", "steam escaping"],
  ["Glass broken", "glass is broken"], ["Plug has gone", "plug has gone"],
  ["Someone is hurt", "someone is hurt"], ["Fire outside", "fire outside"],
  ["Danger is over", "danger is over"], ["Back", () => chooseOther(CHOICES)],
];

const SETTLES_MS = 400; // what changed under the finger is not pressed
const MOST_ANSWERS = 5;
let made = "", changedAt = 0, waiting = true; // made: of which answers; waiting: for such

function age(seconds) {
  if (seconds === null || seconds === undefined) return "not called yet";
  if (seconds < 90) return `${Math.round(seconds)} s ago`;
  if (seconds < 7200) return `${Math.round(seconds / 60)} min ago`;
  return `${Math.round(seconds / 3600)} h ago`;
}
function inDial(psi) {
  const value = psi * 6894.757293168 / picture.engine.unit_pa;
  return picture.engine.unit === "psi" || picture.engine.unit === "kPa"
    ? String(Math.round(value)) : value.toFixed(1);
}
const nearest = (part) => LEVELS.reduce((best, [at], i) =>
  (Math.abs(at - part) < Math.abs(LEVELS[best][0] - part) ? i : best), 0);
function level(part) {
  const [at, words] = LEVELS[nearest(part)];
  return Math.abs(at - part) < 0.0125 ? words : `${Math.round(part * 100)} %`;
}
function put(id, attributes) {
  for (const name in attributes) by(id).setAttribute(name, attributes[name]);
}
const y = (part) => TOP + HIGH * (1 - Math.max(0, Math.min(1, part)));

function showGlass() {
  const water = picture.water, marks = picture.engine;
  put("upper", {y1: y(marks.upper_mark), y2: y(marks.upper_mark)});
  put("lower", {y1: y(marks.lower_mark), y2: y(marks.lower_mark)});
  const known = water.glass !== null && (water.state === "known" || water.state === "at the mark"
    || water.state === "below the mark");
  const called = water.glass === null ? 0 : water.glass;
  put("seen", {y: y(called), height: known ? HIGH * called : 0});
  put("called", {y1: y(called), y2: y(called)});
  by("called").style.display = water.glass === null ? "none" : "";
  by("unknown").style.display = known ? "none" : "";
  const band = water.believed;
  put("believed", band ? {y: y(band.high), height: Math.max(2, y(band.low) - y(band.high))}
    : {y: TOP, height: 0});
  by("level").textContent = water.glass === null
    ? (water.state === "never seen" ? "–" : water.state) : level(water.glass);
  by("level").className = `value${known ? "" : " old"}`;
  const told = water.glass === null && water.state !== "never seen"; // above it, in large
  by("water-age").textContent = water.state === "never seen" ? water.state
    : known || told ? age(water.age_s) : `${water.state}, ${age(water.age_s)}`;
}
function showFar() {
  const pressure = picture.pressure, minutes = picture.minutes;
  const stale = pressure.psi !== null && (pressure.old || pressure.state !== "believed");
  by("pressure").className = stale ? "old" : "";
  by("unit").textContent = picture.engine.unit;
  fit(by("pressure"), pressure.psi === null ? "–" : inDial(pressure.psi), 30, 6,
    by("pressure").parentElement);
  by("pressure-age").textContent = age(pressure.age_s)
    + (pressure.psi === null || pressure.state === "believed" ? "" : `, ${pressure.state}`);
  by("minutes").className = minutes ? "" : "words";
  const span = minutes && [minutes.low, minutes.high].map(Math.round);
  if (minutes) fit(by("minutes"), span[1] ? `${span[0]}–${span[1]}` : "now", 18, 6);
  else fit(by("minutes"), picture.why || "–", 6.5, 3);
  showGlass();
  const worst = picture.alarms.find((alarm) => alarm.says); // the gravest come first
  document.body.classList.toggle("alarm", Boolean(worst));
  fit(by("line"), worst ? `${worst.grade.toUpperCase()}: ${worst.says}` : picture.wanted, 12, 3);
  const hears = picture.hears;
  const last = hears.last.length > LONGEST_HEARD
    ? `${hears.last.slice(0, LONGEST_HEARD - 2)} …` : hears.last;
  fit(by("hearing"), `hears: ${hears.state}${last ? `, “${last}”` : ""}`, 3.6, 2);
  const part = picture.due_s === null || !picture.interval_s ? 0
    : Math.max(0, Math.min(1, 1 - picture.due_s / picture.interval_s));
  by("due").firstElementChild.style.width = `${100 * part}%`;
  put("due", {"aria-valuenow": Math.round(100 * part)});
}
function row(name, value, wide) {
  const dt = document.createElement("dt"), dd = document.createElement("dd");
  dt.textContent = name; dd.textContent = value || "–";
  if (wide) dd.className = "wide";
  return [dt, dd];
}
function line(points, most, from, to) {
  return points.map(([at, value], i) => `${i ? "L" : "M"}${(600 * (at - from) / (to - from)).toFixed(1)},`
    + `${(215 - 205 * value / most).toFixed(1)}`).join("");
}
function showNear() {
  const states = picture.states, water = picture.water;
  by("details").replaceChildren(...[
    ["Next", picture.next, true], ["Phase", picture.phase],
    ["Water", `${water.trend}${water.cause === "unknown" ? "" : ` by ${water.cause}`}`],
    ["Valve", states.valve], ["Feeds proved", states.feeds.join(", ")], ["Fire", states.fire],
    ["Damper", states.damper], ["Blower", states.blower], ["Regulator", states.regulator],
    ["Glass", states.glass], ["Engine", picture.engine.name],
    ["Hears", `${picture.hears.state} ${picture.hears.last}`, true],
  ].flatMap((each) => row(...each)));
  const all = [...picture.chart.pressure, ...picture.chart.water].map(([at]) => at);
  const from = all.length ? Math.min(...all) : 0, to = Math.max(picture.at_s, from + 60);
  const lifts = picture.engine.lifts * picture.engine.unit_pa / 6894.757293168;
  put("pressure-line", {d: line(picture.chart.pressure, 1.1 * lifts, from, to)});
  put("water-line", {d: line(picture.chart.water, 1, from, to)});
  by("alarms").replaceChildren(...picture.alarms.filter((alarm) => alarm.says).map((alarm) => {
    const item = document.createElement("li");
    item.textContent = `${alarm.grade}, ${age(alarm.since_s)}: ${alarm.says}`;
    return item;
  }));
}
function show(text) {
  picture = JSON.parse(text);
  heardAt = Date.now();
  by("lost").hidden = true;
  showFar();
  showNear();
  if (waiting && by("pick").hidden) chooseAnswers(true);
}
function page(name) {
  for (const each of ["far", "near", "press"]) by(each).hidden = each !== name;
  for (const button of document.querySelectorAll("nav [data-show]"))
    button.setAttribute("aria-pressed", String(button.dataset.show === name));
  document.body.dataset.page = name;
  waiting = true;
  chooseAnswers();
  fitAgain();
}
async function press(said, button) {
  const answer = await fetch("press", {
    method: "POST",
    headers: {"Authorization": `Bearer ${key}`, "Content-Type": "application/json"},
    body: JSON.stringify({said}),
  }).catch(() => null);
  if (button && answer && answer.ok) {
    button.classList.add("sent");
    setTimeout(() => button.classList.remove("sent"), 600);
  }
}
function choose(choices, answers = false) {
  const within = by("choices").contains(document.activeElement); // keys go on from here
  made = "";
  by("choices").classList.toggle("answers", answers);
  by("choices").replaceChildren(...choices.map(([label, does]) => {
    const button = document.createElement("button");
    button.textContent = label;
    button.onclick = () => {
      if (Date.now() - changedAt < SETTLES_MS) return;
      if (typeof does === "string") press(does, button); else does();
    };
    return button;
  }));
  if (within) by("choices").firstElementChild.focus();
}
function chooseOther(choices) {
  waiting = false;
  choose(choices);
}
// At most six: the first, and the way to the rest and to everything else.
function chooseSome(known, from = 0) {
  const most = known.length > MOST_ANSWERS ? MOST_ANSWERS - 1 : MOST_ANSWERS, mine = made;
  const more = known.length > MOST_ANSWERS
    ? [["More", () => { chooseSome(known, from + most < known.length ? from + most : 0); }]] : [];
  choose([...known.slice(from, from + most), ...more, ["Other", () => chooseOther(CHOICES)]], true);
  made = mine;
}
// What would answer the step in hand, and the way to everything else; without a step all of that.
function chooseAnswers(byItself) {
  const {asks = "", answers = []} = picture || {};
  const wanted = JSON.stringify([asks, answers]);
  if (made === wanted) return;
  const large = (words) => words[0].toUpperCase() + words.slice(1);
  const value = ["water", "pressure"].includes(asks) ? [[large(asks), () => pick(asks)]] : [];
  const known = [...value, ...answers.map((words) => [large(words), words])];
  if (known.length) chooseSome(known);
  else choose(CHOICES);
  made = wanted;
  if (byItself) changedAt = Date.now();
}
// The largest type, from most to least mm, in which the words fit their box. A box that is not shown
// has no size: `fitAgain` is called when a page is.
function fit(element, words, most, least, box = element) {
  const size = `${words} ${box.clientWidth} ${box.clientHeight} ${document.body.dataset.page}`;
  if (element.dataset.fitted === size) return;
  element.textContent = words;
  if (!box.clientHeight) return;
  for (let mm = most; mm >= least; mm -= 0.5) {
    element.style.fontSize = `calc(${mm} * var(--mm))`;
    if (box.scrollHeight <= box.clientHeight + 1 && box.scrollWidth <= box.clientWidth + 1) break;
  }
  element.dataset.fitted = size;
}
function fitAgain() {
  if (picture) showFar();
  if (!by("pick").hidden) showPicked();
}
let picking = "", value = 0; // which; a place in LEVELS, or a pressure of the dial
function pick(what) {
  picking = what;
  if (what === "water") value = nearest((picture && picture.water.glass) || 0.5);
  else {
    const psi = (picture && picture.pressure.psi) || 0;
    value = psi * 6894.757293168 / (picture ? picture.engine.unit_pa : 6894.757293168);
    value = Math.round(value / step(true)) * step(true);
  }
  by("choices").hidden = true; by("pick").hidden = false;
  by("pick-glass").style.display = what === "water" ? "" : "none";
  by("pick").className = what;
  const far = what === "water" ? ["More", "Less"] : [`${step(false)} more`, `${step(false)} less`];
  [by("more").textContent, by("less").textContent] = far;
  by("little-more").textContent = `${step(true)} more`;
  by("little-less").textContent = `${step(true)} less`;
  showPicked();
  by(what === "water" ? "pick-glass" : "more").focus();
}
// How far one touch goes on this dial, and how far a fine one.
function step(fine) {
  const [far, little] = {psi: [5, 1], kPa: [20, 5]}[picture ? picture.engine.unit : "psi"]
    || [0.5, 0.1];
  return fine ? little : far;
}
function showPicked() {
  if (picking === "water") {
    const [part, words] = LEVELS[value], line = by("pick-glass").querySelector("line");
    line.setAttribute("y1", y(part)); line.setAttribute("y2", y(part));
    by("pick-glass").setAttribute("aria-valuenow", value);
    by("pick-glass").setAttribute("aria-valuetext", words);
    fit(by("picked"), words, 12, 4);
  } else {
    fit(by("picked"), `${Number(value.toFixed(1))} ${picture ? picture.engine.unit : ""}`, 12, 4);
  }
}
function change(steps, fine = false) {
  if (picking === "water") value = Math.max(0, Math.min(LEVELS.length - 1, value + steps));
  else value = Math.max(0, value + steps * step(fine));
  showPicked();
}
function taken() {
  const words = picking === "water"
    ? (value === 0 ? "no water in sight" : `water ${LEVELS[value][1]}`)
    : `pressure ${Number(value.toFixed(1))}`;
  press(words, by("take"));
  left();
}
function left() {
  const within = by("pick").contains(document.activeElement);
  by("pick").hidden = true; by("choices").hidden = false;
  waiting = true;
  chooseAnswers();
  if (within) by("choices").firstElementChild.focus();
}

function listen() {
  const scheme = location.protocol === "https:" ? "wss" : "ws";
  const socket = new WebSocket(`${scheme}://${location.host}/live?key=${encodeURIComponent(key)}`);
  socket.onmessage = (message) => show(message.data);
  socket.onclose = () => setTimeout(listen, AGAIN_MS);
}
async function begin() {
  if (asked.get("code") && !asked.get("key")) {
    const answer = await fetch("pair", {
      method: "POST", headers: {"Content-Type": "application/json"},
      body: JSON.stringify({code: asked.get("code")}),
    }).catch(() => null);
    if (answer && answer.ok) {
      key = (await answer.json()).key;
      sessionStorage.setItem("key", key);
      history.replaceState(null, "", `/?key=${encodeURIComponent(key)}`);
    }
  }
  chooseAnswers();
  for (const button of document.querySelectorAll("[data-said]"))
    button.onclick = () => press(button.dataset.said, button);
  for (const button of document.querySelectorAll("[data-show]"))
    button.onclick = () => page(button.dataset.show);
  by("night").onclick = () => {
    const night = document.body.classList.toggle("night");
    by("night").setAttribute("aria-pressed", String(night));
  };
  by("less").onclick = () => change(-1);
  by("more").onclick = () => change(1);
  by("little-more").onclick = () => change(1, true);
  by("little-less").onclick = () => change(-1, true);
  by("take").onclick = taken;
  by("leave").onclick = left;
  by("pick-glass").onpointerdown = (event) => {
    const box = by("pick-glass").getBoundingClientRect();
    const part = 1 - ((event.clientY - box.top) / box.height * 320 - TOP) / HIGH;
    value = nearest(part);
    showPicked();
  };
  document.onkeydown = (event) => {
    const keys = {r: "that's right", w: "wrong", a: "say again"};
    if (event.key === "ArrowUp" && !by("pick").hidden) change(1);
    else if (event.key === "ArrowDown" && !by("pick").hidden) change(-1);
    else if (keys[event.key] && !event.ctrlKey && !event.metaKey) press(keys[event.key]);
    else if ("123".includes(event.key)) page(["far", "near", "press"][Number(event.key) - 1]);
  };
  onresize = fitAgain;
  setInterval(() => {
    const lost = Date.now() - heardAt >= LOST_AFTER_MS;
    if (by("lost").hidden === !lost) return;
    by("lost").hidden = !lost;
    fitAgain();
  }, 250);
  listen();
}
begin();
