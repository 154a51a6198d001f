use etude::Composer;
fn main(){
  let a:Vec<String>=std::env::args().collect();
  let text=std::fs::read_to_string(&a[1]).unwrap();
  let lesson=match lesson_text::read(&text,"x") { Ok(l)=>l.lesson, Err(_)=>panic!() };
  let c=Composer::new(&lesson).unwrap();
  let plan=c.plans()[a[2].parse::<usize>().unwrap()].clone();
  let sheet=match c.compose(&plan){Ok(s)=>s,Err(_)=>panic!("left out")};
  let e=engrave::Engravers::default();
  let t=std::time::Instant::now();
  let d=e.sheet(&sheet.score,Default::default()).unwrap(); let t1=t.elapsed();
  let t=std::time::Instant::now();
  let _=e.sheet(&sheet.score,Default::default()); let t2=t.elapsed();
  for (n,p) in d.pages.iter().enumerate(){ std::fs::write(format!("{}-{}.svg",a[3],n+1),p.svg()).unwrap();
   std::fs::write(format!("{}-{}.png",a[3],n+1),engrave::png(p,100).unwrap()).unwrap(); }
  let t=std::time::Instant::now();
  let pdf=engrave::pdf(&d.pages,&engrave::About{title:"x",language:"en",..Default::default()}).unwrap();
  eprintln!("{:?} {:?} pages {} pdf {:?} {} {:?}",t1,t2,d.pages.len(),t.elapsed(),pdf.len(),d.exercises);
  std::fs::write(format!("{}.pdf",a[3]),pdf).unwrap();
}
