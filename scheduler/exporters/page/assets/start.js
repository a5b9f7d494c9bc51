document.documentElement.classList.add("js");
startKeeper();
startFinding();
window.rota = { data, keeper, walk, firstSetup, setupFrom, nextSetup, serveOf, written, scoresOf };
