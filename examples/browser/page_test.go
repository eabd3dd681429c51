//go:build !js

package main

import (
	"html"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"example.com/momentarm/examples/internal/page"
)

// The page holds all it needs, and its policy lets exactly its scripts run.
func TestShell(t *testing.T) {
	const loader = "class Go {} // </ <!-- & \"quoted\""
	made, err := assemble([]byte(loader), []byte{0xfb, 0xff, 0xbf, 0})
	if err != nil {
		t.Fatal(err)
	}
	text := string(made)
	for _, bad := range []string{"http:", "https:", " src=", "@import", "<link rel=\"stylesheet", "onclick="} {
		if strings.Contains(text, bad) {
			t.Errorf("the page contains %q", bad)
		}
	}
	if !strings.Contains(text, `id="engine">"+/+/AA=="</script>`) {
		t.Error("the engine is not there as it was")
	}
	meta := regexp.MustCompile(`http-equiv="Content-Security-Policy" content="([^"]*)"`).FindStringSubmatch(text)
	if meta == nil {
		t.Fatal("no policy")
	}
	policy := html.UnescapeString(meta[1])
	scripts := regexp.MustCompile(`(?s)<script>(.*?)</script>`).FindAllStringSubmatch(text, -1)
	if len(scripts) != 2 || scripts[0][1] != loader {
		t.Fatalf("%d scripts", len(scripts))
	}
	want := page.ScriptSource()
	for _, s := range scripts {
		want += " " + sourceOf(s[1])
	}
	for _, source := range strings.Fields(want) {
		if !strings.Contains(policy, source) {
			t.Errorf("the policy does not hold %s", source)
		}
	}
	if n := strings.Count(policy, "sha256-"); n != 3 {
		t.Errorf("the policy lets %d scripts run, want 3", n)
	}
	for _, must := range []string{"default-src 'none';", "connect-src 'none';", "form-action 'none';", "base-uri 'none';"} {
		if !strings.Contains(policy, must) {
			t.Errorf("the policy does not say %s", must)
		}
	}
	if strings.Contains(policy, "'self'") || strings.Contains(policy, "'unsafe-eval'") {
		t.Errorf("the policy is wider than the page says: %s", policy)
	}
}

func TestArguments(t *testing.T) {
	for _, c := range []struct {
		args   []string
		status int
		say    string
	}{
		{[]string{"-help"}, exitOK, "usage: browser"},
		{[]string{"-nonsense"}, exitUsage, "-nonsense"},
		{[]string{"page.html"}, exitUsage, "-out FILE"},
		{[]string{"-out="}, exitUsage, "-out FILE"},
	} {
		var out, errs strings.Builder
		if status := run(c.args, &out, &errs); status != c.status || !strings.Contains(errs.String(), c.say) || out.Len() > 0 {
			t.Errorf("%v: status %d, %q, %q", c.args, status, out.String(), errs.String())
		}
	}
}

// Without a go command there is a word about it and no file.
func TestWithoutGo(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("PATH", dir)
	file := filepath.Join(dir, "page.html")
	var out, errs strings.Builder
	if status := run([]string{"-out", file}, &out, &errs); status != exitWork || !strings.Contains(errs.String(), "install Go") {
		t.Errorf("status %d, %q", status, errs.String())
	}
	if _, err := os.Stat(file); err == nil {
		t.Error("a page was written")
	}
}
