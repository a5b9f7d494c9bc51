/* How the score keeper shows a match: the board, the serve, the court, what is left to choose. */

const HALVES = ["the right half (deuce)", "the left half (ad)"];
const ENDS = ["near end", "far end"];
const OPEN = { server: [1, 2], receiver: [4, 8] }; // the bits of `open`, by turn to serve

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
