package capture
