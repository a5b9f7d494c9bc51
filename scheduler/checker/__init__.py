"""The independent judge: recounts a plan and shares no code with the engine."""
