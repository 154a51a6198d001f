use etude::Composer;
fn main() {
    let a: Vec<String> = std::env::args().collect();
    let text = std::fs::read_to_string(&a[1]).unwrap();
    let read = lesson_text::read(&text, "x");
    let lesson = match read {
        Ok(l) => l.lesson,
        Err(_) => panic!(),
    };
    let c = Composer::new(&lesson).unwrap();
    let plan = c.plans()[a[2].parse::<usize>().unwrap()].clone();
    let sheet = match c.compose(&plan) {
        Ok(s) => s,
        Err(_) => panic!("left out"),
    };
    let e = engrave::Engravers::default();
    let t = std::time::Instant::now();
    let d = e.try_it(&sheet.score);
    let t1 = t.elapsed();
    let t = std::time::Instant::now();
    let d = e.try_it(&sheet.score);
    eprintln!("{:?} {:?} {}", t1, t.elapsed(), d.len());
    std::fs::write(&a[3], &d[0]).unwrap();
}
