/* The score keeper: one dialog for all matches, its taps kept under the plan's id. */

const HALVES = ["the right half (deuce)", "the left half (ad)"];
const ENDS = ["near end", "far end"];
const OPEN = { server: [1, 2], receiver: [4, 8] }; // the bits of `open`, by turn to serve

const store = {
  name: `rota ${data.plan}`,
  read(what) {
    try {
      return JSON.parse(localStorage.getItem(`${this.name} ${what}`));
    } catch {
      return null;
    }
  },
  write(what, value) {
    try {
      localStorage.setItem(`${this.name} ${what}`, JSON.stringify(value));
      return true;
    } catch {
      return false;
    }
  },
};

function matchOf(key) {
  const match = data.matches[key];
  const names = match.people.map((index) => data.people[index]);
  return { ...match, names, teams: [`${names[0]} & ${names[1]}`, `${names[2]} & ${names[3]}`] };
}

const keeper = {
  kept: store.read("scores") || {},
  key: "",
  keeps: true,

  get match() { return matchOf(this.key); },
  get state() { return this.kept[this.key]; },
  get set() { return this.state.sets[this.state.sets.length - 1]; },
  get score() { return walk(data.formats, this.set.setup, this.set.taps); },

  open(key) {
    this.key = key;
    this.kept[key] ||= this.fresh();
    $("k-title").textContent = this.match.title;
    $("k-times").textContent = this.match.times;
    this.draw();
    $("keeper").showModal();
    $("k-title").focus();
  },

  tap(what) {
    if (this.score.over) return;
    this.set.taps += what;
    this.changed();
  },

  undo() {
    const { sets } = this.state;
    if (this.set.taps) this.set.taps = this.set.taps.slice(0, -1);
    else if (sets.length > 1) sets.pop();
    this.changed();
  },

  another(format) {
    const { set, score } = this;
    if (!score.over) return;
    this.state.sets.push({ setup: nextSetup(set.setup, score.over, format), taps: "" });
    this.changed();
  },

  wipe() {
    if (!confirm("Wipe the score of this match?")) return;
    this.kept[this.key] = this.fresh();
    this.changed();
  },

  fresh() {
    return { sets: [{ setup: firstSetup(this.match), taps: "" }], mark: "" };
  },

  changed() {
    this.save();
    this.draw();
  },

  save() {
    this.keeps = store.write("scores", this.kept);
    listScores();
  },

  draw() {
    const { score } = this;
    const serve = score.over ? null : serveOf(this.match, this.set.setup, score);
    drawBoard(this, score, serve);
    drawServe(this, score, serve);
    drawChoices(this, score, serve);
    drawButtons(this, score, serve);
    $("k-lost").hidden = this.keeps;
  },
};

function drawBoard({ match, state }, score, serve) {
  const body = $("k-board");
  const done = state.sets.slice(0, -1).map(({ setup, taps }) => {
    const { games, points } = walk(data.formats, setup, taps);
    return data.formats[setup.format].points ? points : games;
  });
  body.replaceChildren(...[0, 1].map((team) => {
    const serving = serve && serve.server >> 1 === team;
    const head = make("th", { scope: "row" }, make("bdi", {}, match.teams[team]));
    if (serving) head.append(" ", make("span", { class: "ball" }, "serving"));
    const sets = done.map((old) => old[team]);
    return make("tr", {}, head,
      make("td", {}, sets.join(" ") || "\u2013"),
      make("td", {}, String(score.games[team])),
      make("td", { class: "points" }, score.over ? "" : pointsOf(score, team)));
  }));
}

function pointsOf(score, team) {
  const { tieBreak, points } = score.look;
  if (tieBreak) return String(score.points[team]);
  const first = keeper.set.setup.first;
  return points.split("-")[team ^ first];
}

function drawServe({ match, set, state }, score, serve) {
  const [line, where, ends] = [$("k-serve"), $("k-where"), $("k-ends")];
  ends.textContent = endsText(score);
  ends.classList.toggle("now", score.moved);
  if (score.over) {
    const { winner } = score.over;
    line.replaceChildren(make("bdi", {}, match.teams[winner]), " won the set ");
    line.append(written(data.formats, set));
    where.textContent = "";
  } else {
    const to = serve.receiver === null ? "the receivers choose the half" : "serves to ";
    line.replaceChildren(make("bdi", {}, match.names[serve.server]), " ");
    line.append(serve.receiver === null ? "serves; " : "", to);
    if (serve.receiver !== null) line.append(make("bdi", {}, match.names[serve.receiver]));
    const half = serve.half === null ? "" : `From ${HALVES[serve.half]}, `;
    where.textContent = `${half}${half ? "" : "From the "}${ENDS[serve.end]}.`;
  }
  drawCourt(serve);
  const call = score.over || score.look.tieBreak ? "" : score.look.call;
  $("k-call").textContent = call;
  speak([call, line.textContent, where.textContent, score.moved ? ends.textContent : ""]);
}

function endsText(score) {
  if (score.moved) return "Change ends now.";
  if (score.over || !score.look.changes) return "";
  return score.look.tieBreak
    ? "Ends change after this point, unless it ends the set."
    : "Ends change after this game.";
}

function speak(parts) {
  $("k-live").textContent = parts.filter(Boolean).join(". ");
}

/* The court seen from the near end: the far side's right is on the left of the picture. */
function drawCourt(serve) {
  const court = $("k-court");
  court.classList.toggle("idle", !serve || serve.half === null);
  if (!serve || serve.half === null) return;
  const x = (serve.half === 0) === (serve.end === 0) ? 68 : 32;
  const y = serve.end === 0 ? 112 : 8;
  const [rx, ry] = [100 - x, 120 - y];
  place("k-s", { cx: x, cy: y });
  place("k-r", { cx: rx, cy: ry });
  place("k-way", { x1: x, y1: y, x2: rx, y2: ry > 60 ? 80 : 40 });
}

function place(id, attributes) {
  for (const [name, value] of Object.entries(attributes)) $(id).setAttribute(name, value);
}

function drawButtons({ match, state, set }, score, serve) {
  const waiting = Boolean(score.over) || serve.half === null;
  for (const team of [0, 1]) {
    $(`k-point${team}`).disabled = waiting;
    $(`k-name${team}`).textContent = match.teams[team];
    $(`k-game${team}`).disabled = Boolean(score.over);
    $(`k-gname${team}`).textContent = match.teams[team];
    $(`k-retired${team}`).textContent = `${match.teams[team]} retired`;
  }
  $("k-undo").disabled = !set.taps && state.sets.length === 1;
  $("k-points").hidden = Boolean(score.over);
  $("k-mark").value = state.mark;
  $("k-line").textContent = lineOf(keeper.key);
}

/* What the rules leave open at this score: asked for as long as the table says so. */
function drawChoices({ match, set, state }, score, serve) {
  const box = $("k-open");
  const asks = score.over ? [] : [...tossAsks(match, set, state), ...orderAsks(match, set, score)];
  $("k-choices").hidden = !asks.length;
  const fresh = !set.taps;
  if (box.dataset.at !== `${keeper.key} ${state.sets.length} ${fresh}`) {
    box.dataset.at = `${keeper.key} ${state.sets.length} ${fresh}`;
    $("k-choices").open = fresh && state.sets.length > 1;
  }
  const held = document.activeElement && document.activeElement.id;
  box.replaceChildren(...asks.map(askBox));
  drawHalfAsk(match, set, serve);
  drawNextAsk(score);
  if (held && held.startsWith("c-") && $(held)) $(held).focus();
}

function tossAsks(match, set, state) {
  if (set.taps || state.sets.length > 1) return [];
  const { setup } = set;
  return [
    {
      id: "c-first", text: "Which team serves first?", chosen: setup.first,
      options: match.teams, pick: (team) => { setup.first = team; },
    },
    {
      id: "c-end", text: "First server starts from", chosen: setup.end,
      options: ENDS.map((end) => `the ${end}`), pick: (end) => { setup.end = end; },
    },
  ];
}

function orderAsks(match, set, score) {
  const { setup } = set;
  const asks = [];
  for (const turn of [0, 1]) {
    const team = turn ^ setup.first;
    const seats = [2 * team, 2 * team + 1];
    const options = seats.map((seat) => match.names[seat]);
    if (score.look.open & OPEN.server[turn]) {
      asks.push({
        id: `c-server${team}`, text: `First to serve for ${match.teams[team]}`, options,
        chosen: seats.indexOf(setup.order[team][0]),
        pick: (n) => { setup.order[team] = [seats[n], seats[1 - n]]; },
      });
    }
    if (score.look.open & OPEN.receiver[turn]) {
      asks.push({
        id: `c-deuce${team}`, text: `Receives on the right (deuce) for ${match.teams[team]}`,
        options, chosen: seats.indexOf(setup.deuce[team]),
        pick: (n) => { setup.deuce = setup.deuce.map((old, t) => (t === team ? seats[n] : old)); },
      });
    }
  }
  return asks;
}

function askBox({ id, text, options, chosen, pick }) {
  const rows = options.map((option, index) => {
    const input = make("input", { type: "radio", name: id, id: `${id}-${index}` });
    input.checked = index === chosen;
    input.addEventListener("change", () => { pick(index); keeper.changed(); });
    return make("label", { class: "pick" }, input, " ", make("bdi", {}, option));
  });
  return make("fieldset", {}, make("legend", {}, text), ...rows);
}

function drawHalfAsk(match, set, serve) {
  const ask = serve && serve.half === null;
  $("k-half").hidden = !ask;
  if (!ask) return;
  for (const half of [0, 1]) {
    const name = match.names[receiverIn(set.setup, serve.receivers, half)];
    $(`k-half${half}`).textContent = `${name} receives, ${HALVES[half]}`;
  }
}

function drawNextAsk(score) {
  $("k-next").hidden = !score.over;
  const buttons = data.formats.map((format, index) => {
    const button = make("button", { type: "button" }, `Play on: ${format.name}`);
    button.addEventListener("click", () => keeper.another(index));
    return button;
  });
  $("k-formats").replaceChildren(...buttons);
}

function lineOf(key) {
  const { title, teams } = matchOf(key);
  const scores = scoresOf(data, keeper.kept[key]);
  const words = `${title}: ${teams.join(" / ")}`;
  return scores && data.line.before + key + scores + data.line.comment + words;
}

function listScores() {
  const keys = Object.keys(data.matches).filter((key) => keeper.kept[key]);
  const lines = keys.map((key) => lineOf(key)).filter(Boolean);
  $("lines").value = lines.join("\n");
  $("no-lines").hidden = lines.length > 0;
  for (const button of document.querySelectorAll("button[data-k]")) {
    const kept = keeper.kept[button.dataset.k];
    const sets = kept ? kept.sets.map((set) => written(data.formats, set)).filter(Boolean) : [];
    button.textContent = sets.length ? `Score ${sets.join(" ")}` : "Keep score";
  }
}

async function copyText(area, said) {
  let done = false;
  try {
    await navigator.clipboard.writeText(area.value);
    done = true;
  } catch {
    area.select();
    done = document.execCommand("copy");
  }
  said.textContent = done ? "Copied." : "Select the text and copy it by hand.";
}

function startKeeper() {
  document.addEventListener("click", (event) => {
    const button = event.target.closest("button[data-k]");
    if (button) keeper.open(button.dataset.k);
  });
  for (const team of [0, 1]) {
    $(`k-point${team}`).addEventListener("click", () => keeper.tap(String(team)));
    $(`k-game${team}`).addEventListener("click", () => keeper.tap("xy"[team]));
    $(`k-half${team}`).addEventListener("click", () => keeper.tap("da"[team]));
  }
  $("k-undo").addEventListener("click", () => keeper.undo());
  $("k-wipe").addEventListener("click", () => keeper.wipe());
  $("k-close").addEventListener("click", () => $("keeper").close());
  $("k-mark").addEventListener("change", (event) => {
    keeper.state.mark = event.target.value;
    keeper.changed();
  });
  $("copy").addEventListener("click", () => copyText($("lines"), $("copied")));
  listScores();
}
