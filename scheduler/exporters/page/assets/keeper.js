/* The score keeper: one dialog for all matches, its taps kept under the plan's id. */

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
