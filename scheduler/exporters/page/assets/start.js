document.documentElement.classList.add("js");
if ($("keeper")) startKeeper();
startFinding();
window.rota = { data, keeper, walk, firstSetup, setupFrom, nextSetup, serveOf, written, scoresOf };
