package web

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ionwright/lesson/shelf"
)

// served is an application with a shelf of its own.
type served struct {
	*httptest.Server
	t   *testing.T
	dir string
}

func serve(t *testing.T, o Options) *served {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "lessons")
	var err error
	if o.Lessons, err = shelf.Open(dir); err != nil {
		t.Fatal(err)
	}
	s, err := New(t.Context(), o)
	if err != nil {
		t.Fatal(err)
	}
	server := httptest.NewServer(s.Handler())
	t.Cleanup(func() {
		server.CloseClientConnections()
		server.Close()
	})
	return &served{server, t, dir}
}

// get asks for a page as a browser does.
func (s *served) get(path string) (int, string, http.Header) {
	s.t.Helper()
	return s.send("GET", path, nil, map[string]string{"Accept": "text/html"})
}

func (s *served) send(method, path string, body io.Reader, header map[string]string) (int, string, http.Header) {
	s.t.Helper()
	r, err := http.NewRequestWithContext(s.t.Context(), method, s.URL+path, body)
	if err != nil {
		s.t.Fatal(err)
	}
	for name, value := range header {
		if name == "Host" {
			r.Host = value
		}
		r.Header.Set(name, value)
	}
	client := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	answer, err := client.Do(r)
	if err != nil {
		s.t.Fatal(err)
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err != nil {
		s.t.Fatal(err)
	}
	return answer.StatusCode, string(text), answer.Header
}

// pages are one of each kind, for tests of what all have in common.
func pages() []string {
	return []string{"/", "/explain", "/explain?q=butan-2-one&peak=43", "/explain?q=butan-2-one&bond=2", "/explain?q=butan-2-one&peaks=43:100+72:20", "/read",
		"/read?peaks=43:100+58:30+72:20&step=2", "/read?peaks=43:100+58:30+72:20&view=class&step=1&hint=1",
		"/read?peaks=43:100+72:20&candidates=butan-2-one%0Abutanal", "/demonstrate", "/demonstrate?peaks=28+32+44&if=charge", "/write", "/write/example", "/practise",
		"/practise/example", "/about", "/login"}
}

func TestPagesHaveTheirHeaders(t *testing.T) {
	s := serve(t, Options{})
	for _, path := range append(pages(), "/nothing", "/explain?q=C(") {
		status, body, h := s.get(path)
		if status >= 500 {
			t.Errorf("%s answers %d: %.200s", path, status, body)
		}
		csp := h.Get("Content-Security-Policy")
		for _, want := range []string{"default-src 'none'", "script-src 'self'", "base-uri 'none'", "frame-ancestors 'none'"} {
			if !strings.Contains(csp, want) {
				t.Errorf("%s: the policy %q lacks %q", path, csp, want)
			}
		}
		if strings.Contains(csp, "unsafe") {
			t.Errorf("%s: the policy is %q", path, csp)
		}
		if h.Get("X-Content-Type-Options") != "nosniff" || h.Get("Referrer-Policy") != "no-referrer" {
			t.Errorf("%s: headers %v", path, h)
		}
		if strings.Contains(body, "<script>") || strings.Contains(body, " onclick=") || strings.Contains(body, " style=\"") {
			t.Errorf("%s has script or style inline", path)
		}
	}
}

// TestHostileText puts scripts wherever text can come from.
func TestHostileText(t *testing.T) {
	s := serve(t, Options{})
	evil := `"><script>alert(1)</script><img src=x onerror=alert(1)>`
	e := url.QueryEscape(evil)
	for _, path := range []string{"/explain?q=" + e, "/explain?q=butan-2-one&peaks=43:100&title=" + e, "/explain?q=butan-2-one&peak=" + e, "/explain?q=butan-2-one&ev=" + e,
		"/read?peaks=" + e, "/read?peaks=43:100&title=" + e, "/read?peaks=43:100&formula=" + e, "/read?peaks=43:100&mass=" + e,
		"/read?peaks=43:100+72:10&candidates=" + e, "/demonstrate?q=" + e, "/demonstrate?peaks=" + e, "/demonstrate?if=" + e, "/demonstrate?instrument=" + e,
		"/practise/example?a.field91=" + e, "/practise/" + url.PathEscape(evil), "/write/" + url.PathEscape(evil), "/" + url.PathEscape(evil)} {
		status, body, _ := s.get(path)
		if strings.Contains(body, "<script>alert") || strings.Contains(body, "<img src=x") {
			t.Errorf("%s: the text comes back as markup", path)
		}
		if status >= 500 {
			t.Errorf("%s answers %d", path, status)
		}
	}
}

func TestOtherHostsAndSitesAreRefused(t *testing.T) {
	s := serve(t, Options{Hosts: []string{"school.example"}})
	for host, want := range map[string]int{"127.0.0.1:8370": 200, "localhost": 200, "[::1]:80": 200, "school.example": 200,
		"evil.example": 403, "evil.example:8370": 403, "127.0.0.1.evil.example": 403, "10.0.0.1": 403} {
		if status, _, _ := s.send("GET", "/", nil, map[string]string{"Host": host}); status != want {
			t.Errorf("host %q: %d, want %d", host, status, want)
		}
	}
	for _, header := range []map[string]string{{"Origin": "http://evil.example"}, {"Sec-Fetch-Site": "cross-site"}} {
		header["Content-Type"] = "application/x-www-form-urlencoded"
		if status, _, _ := s.send("POST", "/write", strings.NewReader("title=x"), header); status != http.StatusForbidden {
			t.Errorf("a form of another site (%v) gets %d", header, status)
		}
	}
	if _, err := os.Stat(s.dir); err == nil {
		t.Error("another site has made a lesson")
	}
}

// TestNothingOutsideIsServed tries to leave what is served.
func TestNothingOutsideIsServed(t *testing.T) {
	s := serve(t, Options{})
	if err := os.MkdirAll(filepath.Join(s.dir, "in"), 0o755); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{"in/lesson.md": "---\ntitle: T\n---\n\nText.\n", "in/secret.txt": "secret", "secret.txt": "secret", "../secret.txt": "secret"} {
		if err := os.WriteFile(filepath.Join(s.dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, path := range []string{"/lesson/in/secret.txt", "/lesson/in/lesson.md", "/lesson/../secret.txt", "/lesson/..%2fsecret.txt", "/lesson/in/..%2f..%2fsecret.txt", "/lesson/%2e%2e/secret.txt",
		"/static/x/../../web.go", "/static/x/lib/VERSIONS.json", "/static/x/..%2fpage.go", "/static/x/lib/package.json", "/write/..%2fin/source", "/write/%2e%2e/source", "/write/in%00/source",
		"//etc/passwd", "/lesson/in/%2fetc%2fpasswd", `/lesson/in/..\secret.txt`, "/practise/..%2fin"} {
		if status, body, _ := s.get(path); status == http.StatusOK || strings.Contains(body, "secret\n") || body == "secret" {
			t.Errorf("%s answers %d: %.80s", path, status, body)
		}
	}
	for _, file := range []string{"..%2f..%2fevil.csv", "%2e%2e%2fevil.csv", "lesson.md", ".hidden.csv", "evil.sh"} {
		if status, _, _ := s.send("POST", "/write/in/files/"+file, strings.NewReader("43,100\n"), nil); status == http.StatusOK {
			t.Errorf("the file %s was stored", file)
		}
	}
}

// TestLargeUploads sends more than is taken, with and without saying so.
func TestLargeUploads(t *testing.T) {
	s := serve(t, Options{})
	const huge = 64 << 20
	var form bytes.Buffer
	w := multipart.NewWriter(&form)
	part, err := w.CreateFormFile("file", "big.csv")
	if err != nil {
		t.Fatal(err)
	}
	_, _ = part.Write(bytes.Repeat([]byte("43,100\n"), huge/7))
	w.Close()
	r, err := http.NewRequestWithContext(t.Context(), "POST", s.URL+"/read", &form)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", w.FormDataContentType())
	answer, err := http.DefaultClient.Do(r)
	if err == nil {
		answer.Body.Close()
		if answer.StatusCode != http.StatusRequestEntityTooLarge {
			t.Errorf("a large file gets %d", answer.StatusCode)
		}
	} // or the connection was cut while we were sending
	if status, _, _ := s.get("/"); status != http.StatusOK {
		t.Errorf("afterwards the start page answers %d", status)
	}
	for _, path := range []string{"/explain?q=" + strings.Repeat("C", 3000), "/read?peaks=43:1:1", "/explain?q=" + strings.Repeat("C", 100_000)} {
		if status, _, _ := s.get(path); status < 400 || status >= 500 {
			t.Errorf("%.30s... of %d bytes answers %d", path, len(path), status)
		}
	}
}

func TestAFileLeadsToItsAddress(t *testing.T) {
	s := serve(t, Options{})
	var form bytes.Buffer
	w := multipart.NewWriter(&form)
	_ = w.WriteField("q", "butan-2-one")
	part, err := w.CreateFormFile("file", "mine.csv")
	if err != nil {
		t.Fatal(err)
	}
	fmt.Fprint(part, "m/z,intensity\n43,1000\n72,160\n")
	w.Close()
	status, _, h := s.send("POST", "/explain", &form, map[string]string{"Content-Type": w.FormDataContentType()})
	if want := "/explain?q=butan-2-one&peaks=43%3A100+72%3A16"; status != http.StatusSeeOther || h.Get("Location") != want {
		t.Errorf("%d to %q, want %q", status, h.Get("Location"), want)
	}
	_, body, _ := s.get(h.Get("Location"))
	if !strings.Contains(body, "The cosine of the two spectra") {
		t.Error("the page doesn't compare")
	}
}

func TestPasswords(t *testing.T) {
	if _, err := HashPassword("short"); err == nil {
		t.Error("a short password is taken")
	}
	hash, err := HashPassword("a long password")
	if err != nil || !strings.HasPrefix(hash, "$argon2id$v=19$m=65536,t=3,p=4$") { // RFC 9106, section 4, second recommended option
		t.Fatalf("%q, %v", hash, err)
	}
	h, err := parseHash(hash)
	if err != nil || !h.matches("a long password") || h.matches("a long passwore") || h.matches("") {
		t.Errorf("the hash doesn't tell passwords apart: %v", err)
	}
	for _, bad := range []string{"x", "$argon2i$v=19$m=1,t=1,p=1$AAAA$AAAA", "$argon2id$v=19$m=99999999,t=1,p=1$AAAAAAAAAAAAAAAA$AAAAAAAAAAAAAAAAAAAAAAAA", "$argon2id$v=1$m=8,t=1,p=1$AAAA$AAAA"} {
		if _, err := parseHash(bad); err == nil {
			t.Errorf("%q was taken", bad)
		}
	}

	s := serve(t, Options{PasswordHash: hash})
	if status, _, h := s.get("/"); status != http.StatusSeeOther || h.Get("Location") != "/login" {
		t.Errorf("without the password the start page answers %d", status)
	}
	for _, path := range []string{"/explain?q=C", "/lesson/example/student.html", "/write/example/source"} {
		if status, _, _ := s.send("GET", path, nil, nil); status != http.StatusUnauthorized {
			t.Errorf("without the password %s answers %d", path, status)
		}
	}
	form := func(password string) (int, http.Header) {
		status, _, h := s.send("POST", "/login", strings.NewReader(url.Values{"password": {password}}.Encode()), map[string]string{"Content-Type": "application/x-www-form-urlencoded"})
		return status, h
	}
	if status, h := form("wrong password"); status != http.StatusUnauthorized || h.Get("Set-Cookie") != "" {
		t.Errorf("a wrong password gets %d", status)
	}
	status, header := form("a long password")
	cookie := header.Get("Set-Cookie")
	if status != http.StatusSeeOther || !strings.Contains(cookie, "HttpOnly") || !strings.Contains(cookie, "SameSite=Strict") {
		t.Fatalf("the right password gets %d, %q", status, cookie)
	}
	token, _, _ := strings.Cut(cookie, ";")
	if status, _, _ := s.send("GET", "/", nil, map[string]string{"Cookie": token}); status != http.StatusOK {
		t.Errorf("with the cookie the start page answers %d", status)
	}
	s.send("POST", "/logout", nil, map[string]string{"Cookie": token})
	if status, _, _ := s.send("GET", "/explain?q=C", nil, map[string]string{"Cookie": token}); status != http.StatusUnauthorized {
		t.Errorf("after logging out the cookie gets %d", status)
	}
}

func TestSavingALesson(t *testing.T) {
	s := serve(t, Options{})
	form := map[string]string{"Content-Type": "application/x-www-form-urlencoded"}
	status, _, h := s.send("POST", "/write", strings.NewReader("title=Ketones+%26+more&compound=pentan-2-one"), form)
	if status != http.StatusSeeOther || h.Get("Location") != "/write/ketones-more" {
		t.Fatalf("%d to %q", status, h.Get("Location"))
	}
	_, body, _ := s.send("GET", "/write/ketones-more/source", nil, nil)
	var source sourceAnswer
	if err := json.Unmarshal([]byte(body), &source); err != nil || !strings.Contains(source.Text, `title: "Ketones & more"`) {
		t.Fatalf("%q, %v", body, err)
	}
	put := func(text, base string) (int, sourceAnswer) {
		status, body, _ := s.send("PUT", "/write/ketones-more/source", strings.NewReader(text), map[string]string{"If-Match": base})
		var a sourceAnswer
		_ = json.Unmarshal([]byte(body), &a)
		return status, a
	}
	status, first := put(source.Text+"\nOne.\n", source.Version)
	if status != http.StatusOK {
		t.Fatalf("saving answers %d", status)
	}
	status, second := put(source.Text+"\nTwo.\n", source.Version)
	if status != http.StatusConflict || second.Version != first.Version || !strings.HasSuffix(second.Text, "One.\n") {
		t.Errorf("a second window gets %d, %+v", status, second)
	}
	status, second = put(source.Text+"\nTwo.\n", "*")
	if status != http.StatusOK || second.Kept == "" {
		t.Errorf("replacing gets %d, %+v", status, second)
	}
	kept, err := os.ReadFile(filepath.Join(s.dir, "ketones-more", second.Kept))
	if err != nil || !strings.HasSuffix(string(kept), "One.\n") {
		t.Errorf("kept %q, %v", kept, err)
	}
	// The program's own lesson can't be changed, but copied.
	if status, _, _ := s.send("PUT", "/write/example/source", strings.NewReader("x"), map[string]string{"If-Match": "*"}); status != http.StatusForbidden {
		t.Errorf("changing the example gets %d", status)
	}
	if status, _, h := s.send("POST", "/write", strings.NewReader("copy=example"), form); status != http.StatusSeeOther || h.Get("Location") != "/write/copy-of-the-example" {
		t.Errorf("copying gets %d to %q", status, h.Get("Location"))
	}
	if status, body, h := s.send("GET", "/write/ketones-more/pack.zip", nil, nil); status != http.StatusOK || h.Get("Content-Type") != "application/zip" {
		t.Errorf("the pack answers %d: %.300s", status, body)
	}
}

// TestNewLessonsBuild begins lessons around compounds of many kinds.
func TestNewLessonsBuild(t *testing.T) {
	s := serve(t, Options{})
	for _, compound := range []string{"acetone", "toluene", "1-bromobutane", "CCCC(=O)OC", "hexane", "pyridine", "N-ethylethanamine", "methanol"} {
		status, _, h := s.send("POST", "/write", strings.NewReader(url.Values{"title": {`A "quoted": title`}, "compound": {compound}}.Encode()),
			map[string]string{"Content-Type": "application/x-www-form-urlencoded"})
		if status != http.StatusSeeOther {
			t.Errorf("%s: %d", compound, status)
			continue
		}
		name := strings.TrimPrefix(h.Get("Location"), "/write/")
		if status, body, _ := s.send("GET", "/write/"+name+"/pack.zip", nil, nil); status != http.StatusOK {
			t.Errorf("%s isn't built: %d, %s", compound, status, body)
		}
		_, body, _ := s.send("GET", "/lesson/"+name+"/-/state", nil, nil)
		var state struct {
			Diagnostics []json.RawMessage
			Files       []string
		}
		if err := json.Unmarshal([]byte(body), &state); err != nil || len(state.Diagnostics) > 0 || len(state.Files) < 3 {
			t.Errorf("%s: a new lesson has %s, %v", compound, state.Diagnostics, err)
		}
	}
}

func TestPractiseMarks(t *testing.T) {
	s := serve(t, Options{})
	// sqrt(2 V u (m/z) / e) / r for m/z 91, 4 kV, 25 cm: 0.3474 T (recomputed by hand from CODATA constants)
	_, right, _ := s.get("/practise/example?a.field91=0.347+T")
	_, wrong, _ := s.get("/practise/example?a.field91=0.5+T")
	if !strings.Contains(right, `data-verdict="right"`) {
		t.Error("the right answer isn't marked right")
	}
	if !strings.Contains(wrong, `data-verdict="wrong"`) {
		t.Error("a wrong answer isn't marked wrong")
	}
	_, blank, _ := s.get("/practise/example")
	if strings.Contains(blank, "data-verdict") || strings.Contains(blank, "0.347") {
		t.Error("the page gives answers away")
	}
}

// questions is a lesson with a question of each kind that needs a form of its
// own. The arrows of the alpha-cleavage: McLafferty and Turecek,
// Interpretation of Mass Spectra, 4th ed., section 4.3 (from memory).
const questions = "---\ntitle: Ketones\naudience: tests\npace: 130\ncompounds:\n  ketone: { name: butan-2-one, smiles: CCC(C)=O, computed: yes }\n---\n\nAbout ketones.\n\n" +
	"```question\nid: mass\nkind: number\nask: What is its nominal mass?\nanswer: mass(ketone)\nhints: [Count the atoms.]\nbecause: It is the sum.\n```\n\n" +
	"```question\nid: arrows\nkind: arrows\nask: Show the alpha-cleavage that loses an ethyl radical.\ndrawn: CCC(C)=[O+]\narrows: [\"5 > 3-5\", \"2-3 > 3-5\", \"2-3 > 2\"]\n```\n\n" +
	"```question\nid: ions\nkind: assign\nask: Which ions are these?\nabout: ketone\npeaks: [43, 57]\n```\n"

// lesson puts a lesson onto the shelf.
func (s *served) lesson(name, text string) {
	s.t.Helper()
	if err := os.MkdirAll(filepath.Join(s.dir, name), 0o755); err != nil {
		s.t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(s.dir, name, "lesson.md"), []byte(text), 0o644); err != nil {
		s.t.Fatal(err)
	}
}

// TestArrowsFromLists marks arrows that are chosen from lists, and shows them
// chosen again.
func TestArrowsFromLists(t *testing.T) {
	s := serve(t, Options{})
	s.lesson("ketones", questions)
	const right = "?a.arrows.1.from=5&a.arrows.1.to=3-5&a.arrows.2.from=2-3&a.arrows.2.to=3-5&a.arrows.3.from=2-3&a.arrows.3.to=2"
	for query, verdict := range map[string]string{
		right:                        "right",
		right + "&a.arrows.3.with=2": "", // a pair for one electron
		"?a.arrows=" + url.QueryEscape("5 > 3-5, 2-3 > 3-5; 2-3 > 2"): "right", // as text
		"?a.arrows.1.from=5": "", // an arrow without an end
	} {
		status, body, _ := s.get("/practise/ketones" + query)
		if status != http.StatusOK || !strings.Contains(body, "data-verdict") || strings.Contains(body, `data-verdict="right"`) != (verdict == "right") {
			t.Errorf("%s answers %d and isn't marked %q", query, status, verdict)
		}
		if !strings.Contains(body, `<option value="5" selected>O5</option>`) {
			t.Errorf("%s: the place that was chosen isn't chosen on the page", query)
		}
	}
	_, body, _ := s.get("/practise/ketones")
	for _, want := range []string{`id="figure-drawn-2"`, `id="figure-asked-3"`} {
		if !strings.Contains(body, want) {
			t.Errorf("the page lacks %s", want)
		}
	}
	if strings.Contains(body, `id="figure-asked-1"`) {
		t.Error("a question that isn't about the spectrum shows it")
	}
}

// TestTheClassViewHidesWhatComes looks for later steps in the page's source.
func TestTheClassViewHidesWhatComes(t *testing.T) {
	s := serve(t, Options{})
	const peaks = "/read?peaks=29:62+43:4+45:15+57:100+58:5+73:6+74:12+75:40+87:2+102:8"
	_, teacher, _ := s.get(peaks)
	_, class, _ := s.get(peaks + "&view=class&step=1")
	if !strings.Contains(teacher, "Functional groups") || strings.Contains(class, "Functional groups") {
		t.Error("the view for students shows the groups, or that for instructors doesn't")
	}
	if n := strings.Count(class, "data-step="); n != 1 {
		t.Errorf("after one step the view for students has %d", n)
	}
}

// TestLibrariesAreAsListed compares the vendored files with their list.
func TestLibrariesAreAsListed(t *testing.T) {
	all, licences, err := libraries()
	if err != nil || len(all) == 0 || len(licences) == 0 {
		t.Fatalf("%d libraries, %d licences, %v", len(all), len(licences), err)
	}
	listed := map[string]bool{}
	for _, l := range all {
		data, err := staticFiles.ReadFile("static/lib/" + l.File)
		if err != nil {
			t.Error(err)
			continue
		}
		if got := hashOf(data); got != l.SHA256 {
			t.Errorf("%s has the hash %s, and the list says %s", l.File, got, l.SHA256)
		}
		if l.Licence != "MIT" && l.Licence != "BSD-3-Clause" {
			t.Errorf("%s is under %q", l.Name, l.Licence)
		}
		listed[l.File] = true
	}
	entries, err := staticFiles.ReadDir("static/lib")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if strings.HasSuffix(e.Name(), ".js") && !listed[e.Name()] {
			t.Errorf("%s isn't in the list", e.Name())
		}
	}
}

func hashOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}
